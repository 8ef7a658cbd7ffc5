import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { expect } from 'vitest';

/** A change of a text by chance. */
export interface Edit {
  /** Where, as a share of the text. */
  readonly at: number;
  readonly remove: number;
  readonly insert: string;
}

const snippets = [
  '',
  '',
  '',
  '\n',
  '\n\n',
  '\r\n',
  '\r',
  ' ',
  '  ',
  '    ',
  '\t',
  '"',
  "'",
  "''",
  '[',
  ']',
  '{',
  '}',
  '- ',
  '-',
  ': ',
  ':',
  ',',
  '#',
  ' # ',
  '|',
  '>',
  '|+\n\n\n',
  '? ',
  '&a ',
  '*a',
  '!x ',
  '%',
  '...',
  '---',
  '---\n',
  '=======\n',
  '<<: ',
  '~',
  'null',
  '1e3',
  'x',
  'id',
  '@',
  '`',
  '\\',
  '😀',
  '\u00a0',
  '\u2028',
  '\uFEFF',
  '\0',
  '\n- ',
  '\n  - ',
  '\nfoo: ',
  '\n  foo: ',
  '\n]\n',
  '\n  }\n',
  '\n  "q": 1\n',
  '\n  ? k\n  : v\n',
  'segments:\n',
  'techniques:\n',
  'sessions:\n',
  'game: y\n',
];

const edit: fc.Arbitrary<Edit> = fc.record({
  // Each place alike: doubles by chance would mostly be next to nothing.
  at: fc.integer({ min: 0, max: 10_000 }).map((part) => part / 10_000),
  remove: fc.oneof(
    { weight: 2, arbitrary: fc.constant(0) },
    { weight: 1, arbitrary: fc.integer({ min: 1, max: 40 }) },
  ),
  insert: fc.constantFrom(...snippets),
});
/** A few changes, one after the other. */
export const edits = fc.array(edit, { minLength: 1, maxLength: 4 });

function apply(text: string, { at, remove, insert }: Edit): string {
  const start = Math.floor(at * text.length);
  return text.slice(0, start) + insert + text.slice(start + remove);
}

/** Every text on the way, one edit after the other. */
export function history(start: string, all: readonly Edit[]): string[] {
  const made = [start];
  for (const each of all) made.push(apply(made.at(-1)!, each));
  return made.slice(1);
}

/** Deep equality at a hundredth of the matcher's cost; the matcher shows the difference where there is one. */
export function same(left: unknown, right: unknown): void {
  if (!isDeepStrictEqual(left, right)) expect(left).toStrictEqual(right);
}
