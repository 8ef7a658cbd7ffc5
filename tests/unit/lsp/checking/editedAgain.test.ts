import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { describe, expect, it } from 'vitest';
import { digests, poolText } from '../../../helpers/poolFiles.ts';
import { makeRoute } from '../../../bench/route.ts';
import { practiceText, routeText, runsText, weekText } from '../../files/yaml/texts.ts';
import { openEditor, uriOf, type Editor } from '../editor.ts';

type Files = Readonly<Record<string, string>>;

const small: Files = {
  'lanternfall.route.yaml': routeText,
  'lanternfall.practice.yaml': practiceText,
  'lanternfall.runs.yaml': runsText,
  'lanternfall.week.yaml': weekText,
  'lanternfall.pool.yaml': poolText({
    runners: digests(3),
    techniques: {
      'crate-vault': { runners: 3, difficulty: 3, brief: true },
      'box-vault': { runners: 4, difficulty: 3, brief: true },
    },
  }),
  // A route whose own techniques stand beside another's segments.
  'glitchless.route.yaml': `game: Lanternfall
category: glitchless
extends: lanternfall.route.yaml
techniques:
  crate-vault: { difficulty: 1, saves: 200, needs: [rope-swing] }
`,
};
const large: Files = {
  'lanternfall.route.yaml': makeRoute(7, { lines: 250 }).text,
  'lanternfall.week.yaml': weekText,
};

/** A change of one file: shares say where, so that it fits whatever stands there by then. */
interface Change {
  readonly file: number;
  readonly at: number;
  readonly to: number;
  readonly how: (typeof moves)[number] | { readonly typed: string };
}

const typed = [
  'x',
  '1',
  '-',
  ' ',
  '\n',
  ': ',
  '"',
  '[',
  '# ',
  '\n  - ',
  '\n  new: { difficulty: 2 }\n',
] as const;
const moves = ['line out', 'line twice', 'line elsewhere', 'word elsewhere', 'character out'] as const;

/** Each place alike: doubles by chance would mostly be next to nothing. */
const share = fc.integer({ min: 0, max: 10_000 }).map((part) => part / 10_000);
const change: fc.Arbitrary<Change> = fc.record({
  file: fc.nat(),
  at: share,
  to: share,
  how: fc.oneof(
    fc.constantFrom(...moves),
    fc.constantFrom(...typed).map((text) => ({ typed: text })),
  ),
});

/** The text after a change, and the change as the stretch that is replaced. */
function made(text: string, { at, to, how }: Change): { start: number; end: number; insert: string } {
  const offset = (share: number) => Math.floor(share * text.length);
  const line = (share: number) => {
    const start = text.lastIndexOf('\n', offset(share) - 1) + 1;
    const newline = text.indexOf('\n', start);
    return { start, end: newline < 0 ? text.length : newline + 1 };
  };
  const { start, end } = line(at);
  const other = line(to);
  const cut = (span: { start: number; end: number }) => text.slice(span.start, span.end);
  switch (how) {
    case 'line out':
      return { start, end, insert: '' };
    case 'line twice':
      return { start, end: start, insert: cut({ start, end }) };
    case 'line elsewhere':
      return { ...other, end: other.start, insert: cut({ start, end }) };
    case 'word elsewhere': {
      const word = /[a-z-]{3,}/.exec(text.slice(offset(at)))?.[0] ?? 'x';
      const found = /[a-z-]{3,}/.exec(text.slice(offset(to)));
      const from = offset(to) + (found?.index ?? 0);
      return { start: from, end: from + (found?.[0].length ?? 0), insert: word };
    }
    case 'character out':
      return { start: offset(at), end: Math.min(text.length, offset(at) + 1), insert: '' };
    default:
      return { start: offset(at), end: offset(at), insert: how.typed };
  }
}

/** What the client was told last of each file that it was told of, without what is gone again. */
function told({ published }: Editor): Map<string, unknown> {
  const last = new Map<string, unknown>();
  for (const { uri, diagnostics } of published) {
    if (diagnostics.length > 0) last.set(uri, diagnostics);
    else last.delete(uri);
  }
  return new Map([...last].sort(([a], [b]) => (a < b ? -1 : 1)));
}

async function sameAsAnew(files: Files, changes: readonly Change[]): Promise<void> {
  const names = Object.keys(files);
  const edited = await openEditor(files, { open: names });
  const texts = { ...files };
  for (const [index, one] of changes.entries()) {
    const name = names[one.file % names.length]!;
    const before = TextDocument.create(uriOf(name), 'routewright', 1, texts[name]!);
    const { start, end, insert } = made(texts[name]!, one);
    const range = { start: before.positionAt(start), end: before.positionAt(end) };
    edited.services.sync.change(uriOf(name), [{ range, text: insert }], index + 2);
    edited.services.checks.checkPendingEdits();
    texts[name] = before.getText().slice(0, start) + insert + before.getText().slice(end);
    const anew = await openEditor(texts, { open: names });
    for (const file of names) {
      const [kept, fresh] = [edited, anew].map(({ services }) => services.findings.of(uriOf(file)));
      if (!isDeepStrictEqual(kept, fresh)) expect(kept, texts[file]).toEqual(fresh);
    }
    const [kept, fresh] = [told(edited), told(anew)];
    if (!isDeepStrictEqual(kept, fresh)) expect(kept).toEqual(fresh);
    anew.services.checks.dispose();
  }
  edited.services.checks.dispose();
}

describe('files edited at random have the findings and diagnostics of the same files opened anew', () => {
  const changes = fc.array(change, { minLength: 1, maxLength: 5 });

  it.each([1, 20251126])('a route with its logs, and one that extends it (seed %i)', async (seed) => {
    const property = fc.asyncProperty(changes, (all) => sameAsAnew(small, all));
    await fc.assert(property, { seed, numRuns: 30 });
  });

  it.each([2, 1126])('a longer route (seed %i)', async (seed) => {
    const property = fc.asyncProperty(changes, (all) => sameAsAnew(large, all));
    await fc.assert(property, { seed, numRuns: 20 });
  });
});
