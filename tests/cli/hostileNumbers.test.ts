import { afterEach, describe, expect, test, vi } from 'vitest';
import { readSource } from '../../server/src/files/reading/reading.ts';
import { extreme, filesWith, impossible, placeCount } from '../helpers/hostileNumbers.ts';
import { folderOf, routewright } from './place.ts';

const answers = [
  ['check'],
  ['rank'],
  ['rank', '--objective', 'target'],
  ['rank', '--explain', 'vault'],
  ['odds'],
  ['odds', '--with', 'hop'],
  ['plan', '--weeks', '1'],
  ['tonight'],
  ['review'],
  ['progress'],
  ['compare', 'a.route.yaml', 'a.route.yaml'],
];
const commands = answers.flatMap((argv) => [argv, [...argv, '--json']]);

/** Each place meets every third value, the next place the next ones; with ROUTEWRIGHT_LONG=1 every value. */
const every = process.env.ROUTEWRIGHT_LONG === '1' ? 1 : 3;

/** What a number that is none looks like in a text, or one that was never meant for people. */
const noNumber = /NaN|Infinity|undefined|\d[eE]\+\d/;

/** Paths of the numbers in a value that are none: JSON would write them as null. */
function* uncountable(value: unknown, path = ''): Generator<string> {
  if (typeof value === 'number' && !Number.isFinite(value)) yield path;
  if (typeof value === 'object' && value !== null)
    for (const [key, inner] of Object.entries(value)) yield* uncountable(inner, `${path}.${key}`);
}

const places = Array.from({ length: placeCount }, (_, place) => place);

describe('numbers, times and dates that nothing can be worked out with', () => {
  afterEach(() => vi.restoreAllMocks());

  test('the files are right without them', async () => {
    const { code, out } = await routewright(folderOf(filesWith(-1, '').files), ['check']);
    expect(out).not.toMatch(/ error /);
    expect(code).toBe(0);
  });

  test.each(impossible)('%.20s is a finding at its place, in every place', (value) => {
    const missed = places.filter((place) => {
      const { files, name, kind, start, end } = filesWith(place, value);
      const { problems } = readSource(kind, files[name]!);
      return !problems.some((problem) => problem.start < end && problem.end > start);
    });
    expect(missed).toEqual([]);
  });

  test.each(places)('no answer holds what they would lead to, from place %d', async (place) => {
    const stringify = JSON.stringify;
    const found: string[] = [];
    vi.spyOn(JSON, 'stringify').mockImplementation((value: unknown, ...rest: unknown[]) => {
      found.push(...uncountable(value));
      return stringify(value, ...(rest as []));
    });
    for (const [index, value] of [...extreme, ...impossible].entries()) {
      if ((place + index) % every !== 0) continue;
      // Each value meets another command at each place: all pairs are met, but not all triples.
      const argv = commands[(place * 7 + index) % commands.length]!;
      const folder = folderOf(filesWith(place, value).files);
      const { out, err } = await routewright(folder, [...argv, '--as-of', '2026-10-08']);
      const what = `${argv.join(' ')}, ${value.slice(0, 30)}`;
      expect({ what, found, text: noNumber.exec(out + err)?.[0] }).toEqual({
        what,
        found: [],
        text: undefined,
      });
    }
  });

  test.each([
    ['--target', '1e308'],
    ['--target', '9'.repeat(400)],
    ['--target', `${'9'.repeat(400)}:59`],
    ['--cycle', `vault=${'9'.repeat(400)}`],
    ['--as-of', '9999-12-31'],
    ['--as-of', '0000-01-01'],
    ['--as-of', '2026-10-05T19:30+02:00'],
  ])('the option %s %.20s is refused by its name', async (option, value) => {
    const { code, out, err } = await routewright(folderOf(filesWith(-1, '').files), ['rank', option, value]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(`${option} needs`);
  });

  test.each([
    ['--minutes', '1e308'],
    ['--minutes', '9'.repeat(400)],
    ['--minutes', 'NaN'],
    ['--minutes', 'Infinity'],
    ['--tries', '9'.repeat(400)],
    ['--at', '9999-12-31T19:30'],
    ['--at', '2026-10-05T19:30+02:00'],
  ])('log refuses %s %.20s, and logs nothing', async (option, value) => {
    const { files } = filesWith(-1, '');
    const folder = folderOf(files);
    const env = { ROUTEWRIGHT_STATE_HOME: folderOf({}) };
    const argv = ['log', 'vault', '--landed', '3', '--tries', '4', '--minutes', '5', option, value];
    const { code, out, err } = await routewright(folder, argv, { env });
    expect({ code, out }).toEqual({ code: 2, out: '' });
    // The message may repeat what was typed, and nothing that was worked out from it.
    expect(err.replaceAll(`not ${value}.`, '')).not.toMatch(/NaN|Infinity/);
    expect((await routewright(folder, ['log'], { env })).out).toBe('Nothing waits in the journal.\n');
  });
});
