import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseWithNumberLists } from '../../../../server/src/files/yaml/numberLists.ts';
import { parsePlainly, parseYaml } from '../../../../server/src/files/yaml/parseYaml.ts';
import { samplePool } from '../../../helpers/poolFiles.ts';

const ten = '[0, -1, 2, 30, -400, 5, 6, 70, 8, 999999999]';

/** Whether a text was read the shorter way. */
const isShort = (text: string): boolean => parseWithNumberLists(text, parsePlainly) !== undefined;

describe('long lists of numbers', () => {
  it('are read in a pool, with the same tree', () => {
    expect(isShort(samplePool)).toBe(true);
    expect(parseYaml(samplePool)).toEqual(parsePlainly(samplePool));
  });

  it.each([
    ['as a value', `a: ${ten}\n`],
    ['with a comment behind', `a: ${ten} # why\nb: 1\n`],
    ['in a map in brackets', `a: { b: ${ten}, c: ${ten} }\n`],
    ['in a list of maps', `- a: ${ten}\n- b: 1\n`],
    ['with zeros in front, and a zero below zero', 'a: [007, -0, 2, 3, 4, 5, 6, 7, 8, 9]\n'],
    ['in a text of Windows', `a: ${ten}\r\nb: ${ten}\r\n`],
  ])('are read %s', (_, text) => {
    expect(isShort(text)).toBe(true);
    expect(parseYaml(text)).toEqual(parsePlainly(text));
  });

  it.each([
    ['where there is none', 'a: [1, 2]\n'],
    ['in quotes', `a: "b: ${ten}"\n`],
    ['in text over several lines', `a: |\n  b: ${ten}\n`],
    ['in a plain text', `a: b\n  c: ${ten}\n`],
    ['in a comment', `a: 1 # b: ${ten}\n`],
    ['with more behind', `a: ${ten} b\n`],
    ['with more below', `a: ${ten}\n  b\n`],
    ['as a key', `{ a: ${ten}: 1 }\n`],
    ['behind an anchor', `a: &x 1\nb: ${ten}\nc: *x\n`],
    ['beside broken text', `a: ${ten}\nb: [\n`],
    ['of other numbers too', 'a: [1, 2, 3, 4, 5, 6, 7, 8, 9, 0x10]\n'],
    ['of larger numbers', 'a: [1, 2, 3, 4, 5, 6, 7, 8, 9, 1234567890]\n'],
  ])('are left to the parser %s', (_, text) => {
    expect(isShort(text)).toBe(false);
    expect(parseYaml(text)).toEqual(parsePlainly(text));
  });

  it('make no difference, whatever is written into a text that has them', () => {
    const line = fc.constantFrom(
      ...[`a: ${ten}`, `b: ${ten}`, `c: { d: ${ten}, e: ${ten} }`, `  f: ${ten}`, `- g: ${ten}`],
      ...['h:', 'i: word', '# note', 'j: |', 'k: "two', '  words"', ''],
    );
    const slip = fc.constantFrom(
      ...[
        '',
        '',
        ' ',
        '\n',
        '  ',
        '"',
        "'",
        ' # ',
        '|',
        '&x ',
        '*x',
        '!!str ',
        '? ',
        ': ',
        ', ',
        '[',
        ']',
        '{',
        '}',
      ],
      ...['\t', '\r', '---\n', '7', 'word'],
    );
    let short = 0;
    fc.assert(
      fc.property(
        fc.array(line, { minLength: 1, maxLength: 5 }),
        slip,
        fc.nat(),
        (lines, inserted, place) => {
          const clean = `${lines.join('\n')}\n`;
          const at = place % clean.length;
          const text = clean.slice(0, at) + inserted + clean.slice(at);
          if (isShort(text)) short++;
          expect(parseYaml(text)).toEqual(parsePlainly(text));
        },
      ),
      { numRuns: 3000 },
    );
    expect(short).toBeGreaterThan(200);
  });
});
