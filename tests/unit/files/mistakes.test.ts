import { describe, expect, it } from 'vitest';
import { type FileKind, fileKinds } from '../../../server/src/files/fileKind.ts';
import { readSource } from '../../../server/src/files/reading/reading.ts';
import { sampleText } from '../../helpers/poolFiles.ts';
import { mistakeKinds, withTypingMistake } from '../../helpers/mistakes.ts';
import { texts } from './yaml/texts.ts';

/** The first lines of a text, as far as its entries are whole. */
function beginning(text: string): string[] {
  const lines = text.split('\n').slice(0, 60);
  const last = lines.findLastIndex((line) => /^(?: {2}- |\w)/.test(line));
  return lines.length < 60 ? lines : lines.slice(0, last);
}

/** Every line of our small texts, and the first lines of the samples. */
const sources = fileKinds.flatMap((kind) =>
  [texts[kind].split('\n'), beginning(sampleText(kind))].map((lines) => ({
    kind,
    lines,
    clean: readSource(kind, lines.join('\n')),
  })),
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
      const { problems } = readSource(kind, text, clean);
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

/** Lines of the samples, with the mistake in them, where it says more or farther away; and why. */
const exceptions: Readonly<Record<string, RegExp>> = {
  // The first of a section's entries: the others are now indented deeper, as its lines are.
  'one space too little': /^ crate-vault:/,
  // Good YAML, of which three values do not fit.
  'two spaces too many': /^ {2}times:/,
  // A run and an evening of runs together: what one has the other may not have.
  'a missing dash, the rest left in line': /^ {4}(?:start|date): 2026/,
};

describe('wherever it is made in the samples, one mistake gives at most two problems within two lines:', () => {
  const samplesRead = fileKinds.map((kind) => {
    const text = sampleText(kind);
    return { kind, text, clean: readSource(kind, text) };
  });
  // Every place of the route and the week, every other of the logs, where entries are alike.
  const strideIn = (kind: FileKind) => (kind === 'route' || kind === 'week' ? 1 : 2);

  it.each(mistakeKinds.map((mistake) => [mistake.name, mistake] as const))('%s', (name, mistake) => {
    const tooMuch: string[] = [];
    let seen = 0;
    for (const { kind, text, clean } of samplesRead) {
      const slips = mistake.mistakesIn(text).filter((_, place) => place % strideIn(kind) === 0);
      for (const slip of slips) {
        const wrong = withTypingMistake(text, slip);
        const { problems } = readSource(kind, wrong, clean);
        const lineOf = (offset: number) => wrong.slice(0, offset).split('\n').length - 1;
        const line = lineOf(slip.at);
        // A bracket that goes over several lines is shown where it opens.
        const most = (start: number) => (/[[{]/.test(wrong[start] ?? '') ? 4 : 2);
        const far = problems.filter(({ start }) => Math.abs(lineOf(start) - line) > most(start));
        if (problems.length > 0) seen++;
        if (problems.length > 2 || far.length > 0) tooMuch.push(wrong.split('\n')[line]!);
      }
    }
    expect(seen).toBeGreaterThan(20);
    const excepted = tooMuch.filter((line) => exceptions[name]?.test(line));
    expect(tooMuch.filter((line) => !excepted.includes(line))).toEqual([]);
    expect(excepted.length > 0).toBe(name in exceptions);
  });
});
