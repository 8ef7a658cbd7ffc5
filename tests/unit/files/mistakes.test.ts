import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FileKind } from '../../../server/src/files/kinds.ts';
import { read } from '../../../server/src/files/read.ts';
import { texts } from './texts.ts';

const samples = join(import.meta.dirname, '../../../samples');
const kinds: readonly FileKind[] = ['route', 'practice', 'runs', 'week'];
/** The first lines of a text, as far as its entries are whole. */
function beginning(text: string): string[] {
  const lines = text.split('\n').slice(0, 60);
  const last = lines.findLastIndex((line) => /^(?: {2}- |\w)/.test(line));
  return lines.length < 60 ? lines : lines.slice(0, last);
}

/** Every line of our small texts, and the first lines of the samples. */
const sources = kinds.flatMap((kind) =>
  [texts[kind].split('\n'), beginning(readFileSync(join(samples, `lanternfall.${kind}.yaml`), 'utf8'))].map(
    (lines) => ({ kind, lines, clean: read(kind, lines.join('\n')) }),
  ),
);

/** The line with the mistake in it; undefined where it has no place for one. */
type Mistake = (line: string) => string | undefined;

function swap(pattern: RegExp, by: string): Mistake {
  return (line) => (pattern.test(line) && !/^ *#/.test(line) ? line.replace(pattern, by) : undefined);
}

interface Outcome {
  readonly where: string;
  readonly count: number;
  /** Lines between the mistake and the problem farthest from it. */
  readonly away: number;
}

/** What comes of a mistake on every line that has a place for it; where the text still reads well, nothing. */
function outcomes(mistake: Mistake): Outcome[] {
  return sources.flatMap(({ kind, lines, clean }) =>
    lines.flatMap((line, index): Outcome[] => {
      const wrong = mistake(line);
      if (wrong === undefined) return [];
      const text = lines.with(index, wrong).join('\n');
      const { problems } = read(kind, text, clean);
      const lineOf = (offset: number) => text.slice(0, offset).split('\n').length - 1;
      const away = Math.max(0, ...problems.map(({ start }) => Math.abs(lineOf(start) - index)));
      return problems.length === 0
        ? []
        : [{ where: `${kind} ${index + 1}: ${wrong}`, count: problems.length, away }];
    }),
  );
}

const tooMuch = (all: readonly Outcome[]) => all.filter(({ count, away }) => count > 2 || away > 2);

// Not among the places: a section with one entry only, behind a tab. What is listed inside it is then taken for
// the section's entries, and each is said to be none.
describe('one mistake gives at most two problems, each within two lines of it:', () => {
  it.each([
    ['a tab for the indentation', swap(/^ +/, '\t'), 100],
    ['no space after a colon', swap(/: (?=\S)/, ':'), 100],
    ['a quote never closed before a value', swap(/: (?=\w)/, ': "'), 100],
    ['a closing quote missing', swap(/["'](?=[ ,\]}]*$)/, ''), 5],
    ['an opening bracket too much', swap(/: (?=\w)/, ': ['), 100],
  ])('%s', (_, mistake, places) => {
    const all = outcomes(mistake);
    expect(all.length).toBeGreaterThan(places);
    expect(tooMuch(all).map(({ where }) => where)).toEqual([]);
  });

  // A bracket that goes over several lines is shown where it opens, which may be three lines up.
  it('a closing bracket missing', () => {
    const all = outcomes(swap(/[\]}](?=[^\]}]*$)/, ''));
    expect(all.length).toBeGreaterThan(60);
    expect(all.filter(({ count }) => count > 2)).toEqual([]);
    expect(all.filter(({ away }) => away > 3)).toEqual([]);
  });

  // Deeper, a line often still is valid YAML that means something else, and then each of its parts is wrong in
  // its own way: a technique below another's keys, say. Those few are counted here.
  // A first entry one space to the left takes the section's other entries for its own lines.
  it.each([
    ['one space too little', swap(/^ (?= *\S)/, '')],
    ['one space too many', swap(/^(?=.)/, ' ')],
    ['two spaces too many', swap(/^(?=.)/, '  ')],
  ])('%s, but for one place in fifty', (_, mistake) => {
    const all = outcomes(mistake);
    expect(all.length).toBeGreaterThan(120);
    expect(tooMuch(all).length).toBeLessThanOrEqual(all.length / 50);
  });
});
