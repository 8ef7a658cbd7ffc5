import { describe, expect, test } from 'vitest';
import { routewright, samples } from './place.ts';

/** The first technique that a command ranks. */
async function ranked(cwd: string, ...argv: string[]): Promise<string> {
  const { code, out, err } = await routewright(cwd, ['rank', ...argv, '--json']);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return out;
}
const others = ['Oda', 'Pim', 'Tam'];
const folderOf = (runner: string): string => `runners/${runner.toLowerCase()}`;

describe('the sample with its four runners', () => {
  test('is ranked for the one beside the route, as if there were nobody else', async () => {
    const own = await ranked(samples);
    expect(own).toBe(await ranked(samples, 'lanternfall.route.yaml'));
    expect(own).toBe(await ranked(samples, '.', '--runner', 'Wren'));
  });

  test.each(others)(
    'is ranked for %s by name, by folder, by file and from inside the folder',
    async (runner) => {
      const chosen = await ranked(samples, '.', '--runner', runner);
      expect(chosen).not.toBe(await ranked(samples));
      expect(await ranked(samples, folderOf(runner))).toBe(chosen);
      expect(await ranked(samples, `${folderOf(runner)}/lanternfall.runs.yaml`)).toBe(chosen);
      expect(await ranked(`${samples}/${folderOf(runner)}`)).toBe(chosen);
    },
  );

  test.each(others)('has an evening and a week for %s', async (runner) => {
    for (const command of ['tonight', 'plan', 'odds', 'review']) {
      const { code, out } = await routewright(samples, [command, folderOf(runner)]);
      expect([0, 1], command).toContain(code);
      expect(out.replaceAll(/\s+/g, ' '), command).toContain(
        `The logs of ${runner} count: they were asked about.`,
      );
    }
  });

  test('has one finding, the slip of the one beside the route, and none in the files of the others', async () => {
    const { code, out } = await routewright(samples, ['check', '.']);
    expect(code).toBe(0);
    expect(out).toMatch(/\[lands-too-rarely\]/);
    expect(out).toContain('13 files checked, as of 2026-11-09: 1 warning.');
    for (const runner of others) {
      const alone = await routewright(samples, ['check', '.', '--runner', runner]);
      expect(alone.out, runner).toContain('13 files checked, as of 2026-11-09: nothing found.');
    }
  });
});
