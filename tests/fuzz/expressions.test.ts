import { describe, expect, it } from 'vitest';
import { commonSchema } from '../../server/src/files/schema/schema.ts';
import { wholeItem } from '../../server/src/journal/logExcerpt.ts';
import listed from './expressions.json' with { type: 'json' };
import { schemaPatterns, slowText, writtenExpressions } from './expressions.ts';

/** `file` for what sees the text of a file: whole, a line, a key or a value. `ours: …` for what never does. */
const list = listed as Readonly<Record<string, Readonly<Record<string, string>>>>;

/** What stands before the repeats, for expressions that begin with certain words. */
const starts: Readonly<Record<string, readonly string[]>> = {
  'rules/allowances.ts': ['', '# allow a-b', '# allow a-b: c'],
  'rules/checks/logs/loggedTwice.ts': ['', 'id', 'id: '],
  'lsp/editing/documentLinks.ts': ['', 'https://'],
  'lsp/editing/snippets.ts': ['', '${1:'],
  'lsp/editing/folding.ts': ['', '# a\n'],
  'files/edit/formatEdits.ts': ['', '\n'],
  'journal/logExcerpt.ts': ['', '  - { a: ', '  - start: 2', '  - start: 2\n    blocks:\n      - { a: '],
};

/** What a call makes of an expression, by the file that it is in: with an id in place of the variable. */
const made: Readonly<Record<string, readonly RegExp[]>> = {
  'lsp/editing/rename.ts': [/(?<![\w-])a-1(?![\w-])/g],
  'journal/logExcerpt.ts': Object.values(wholeItem).map((make) => make()),
  // The pattern of an id, which is tried with the patterns of the schemas.
  'files/schema/ids.ts': [],
  // The patterns of a time and of a range, with any number of digits.
  'files/schema/schemaWording.ts': ['time', 'secondsOrRange'].map(
    (name) => new RegExp(commonSchema(name).pattern!.replace(/\{1,\d\}/g, '+')),
  ),
};

function expressionsOf(file: string, written: string): readonly RegExp[] {
  if (!written.startsWith('/')) return made[file] ?? [];
  const end = written.lastIndexOf('/');
  return [new RegExp(written.slice(1, end), written.slice(end + 1))];
}

describe('the list of regular expressions', () => {
  it('names every one that the server has, and no other', () => {
    const found: Record<string, string[]> = {};
    for (const { file, written } of writtenExpressions()) (found[file] ??= []).push(written);
    const named = Object.entries(list).map(([file, of]) => [file, Object.keys(of).sort()] as const);
    const wanted = Object.entries(found).map(([file, all]) => [file, [...new Set(all)].sort()] as const);
    // Where this fails: add the expression to tests/fuzz/expressions.json, and say whether it sees the text of a file.
    expect(Object.fromEntries(named)).toEqual(Object.fromEntries(wanted));
  });

  it('says of each what it sees', () => {
    for (const [file, of] of Object.entries(list))
      for (const [written, sees] of Object.entries(of))
        expect(sees, `${file} ${written}`).toMatch(/^(?:file$|ours: \S)/);
  });
});

describe('an expression that sees the text of a file takes linear time', () => {
  const seeing = Object.entries(list).flatMap(([file, of]) =>
    Object.entries(of).flatMap(([written, sees]) =>
      sees === 'file' ? expressionsOf(file, written).map((each) => [file, each] as const) : [],
    ),
  );

  it.each(seeing)('%s %s', (file, expression) => {
    expect(slowText(expression, { starts: starts[file] ?? [''] })).toBeUndefined();
  });

  it.each(schemaPatterns())('schemas %s', (pattern) => {
    expect(slowText(new RegExp(pattern, 'u'))).toBeUndefined();
  });

  it('which is seen to be false of others', () => {
    expect(slowText(/ +x$/)).toContain('" "');
    expect(slowText(/^(?:a|a)*$/)).toContain('"a"');
    // An allowance as it was once searched for, with blanks in the middle of its reason.
    const lazily = /#[ \t]*allow[ \t]+([a-z]+):[ \t]*(.*?)[ \t]*(?=\r?$)/gm;
    expect(slowText(lazily, { starts: ['# allow a: c'] })).toContain('" "');
  });
});
