import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples } from './place.ts';

interface Row {
  technique: string;
  practice: { landed: number; tries: number; mean: number; low: number; high: number };
  run: { landed: number; tries: number; mean: number };
  verdict: string;
  reason: string;
  slip: { week: object; chance: number; slipped: boolean } | null;
  suggestedDifficulty: number | null;
}
interface Report {
  asOf: string;
  week: { from: string; to: string };
  techniques: Row[];
}

async function reviewed(cwd: string, ...argv: string[]) {
  const said = await routewright(cwd, ['review', '--json', ...argv]);
  return { ...said, report: JSON.parse(said.out) as Report };
}

let kept: ReturnType<typeof reviewed> | undefined;
const sample = () => (kept ??= reviewed(samples));

describe('review --json', () => {
  test('carries the promised fields of every technique, and the same bytes twice', async () => {
    const { code, err, out, report } = await sample();
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(report.week).toEqual({ from: '2026-11-02', to: '2026-11-08' });
    expect(report.techniques).toHaveLength(26);
    for (const row of report.techniques) {
      expect(Object.keys(row).slice(0, 6)).toEqual([
        'technique',
        'practice',
        'run',
        'trend',
        'verdict',
        'reason',
      ]);
      expect(Object.keys(row.practice)).toEqual(['landed', 'tries', 'mean', 'low', 'high']);
      expect(row.reason).toMatch(/\.$/);
      expect(row.practice.landed).toBeLessThanOrEqual(row.practice.tries);
    }
    expect((await routewright(samples, ['review', '--json'])).out).toBe(out);
  });

  test('finds the slip that was planted in the sample, and no other', async () => {
    const { report } = await sample();
    const slipped = report.techniques.filter(({ verdict }) => verdict === 'slipped');
    expect(slipped.map(({ technique }) => technique)).toEqual(['net-climb']);
    expect(slipped[0]!.slip).toMatchObject({ week: { landed: 0, tries: 6 }, slipped: true });
  });

  test('a week before it was planted, none is found', async () => {
    const { report } = await reviewed(samples, '--as-of', '2026-11-02');
    expect(report.techniques.filter(({ verdict }) => verdict === 'slipped')).toEqual([]);
  });

  test('counts what is in the logs', async () => {
    const { report } = await sample();
    const row = report.techniques.find(({ technique }) => technique === 'wall-kick')!;
    // The sample's wall kick, its blocks and runs added up apart from this code (regular expressions in Python).
    expect(row.practice).toMatchObject({ landed: 1472, tries: 1981 });
    const untried = report.techniques.filter(({ verdict }) => verdict === 'untried');
    expect(untried.every(({ practice: p, run }) => p.tries + run.tries === 0)).toBe(true);
  });
});

describe('review for people', () => {
  test('puts what changed first and ends with how a slip is told', async () => {
    const { code, out } = await routewright(samples, ['review']);
    expect(code).toBe(0);
    const at = (text: string): number => {
      expect(out).toContain(text);
      return out.indexOf(text);
    };
    expect(at('To work on again')).toBeLessThan(at('Counts'));
    expect(at('Counts')).toBeLessThan(at('How this is told'));
    expect(out).toMatch(/at most 5 %/);
    expect(out.replaceAll(/\s+/g, ' ')).toContain("Holm's correction");
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  test('nothing logged: says so and exits 1', async () => {
    const { code, out } = await routewright(folderOf({ 'a.route.yaml': route }), ['review']);
    expect(code).toBe(1);
    expect(out).toContain('Nothing is logged yet');
    expect(out).toContain('Nothing logged: Crate vault and Wall kick.');
  });

  test('a fresh log: practice without runs is reviewed, and nothing is tested', async () => {
    const folder = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice });
    const { code, out } = await routewright(folder, ['review']);
    expect(code).toBe(0);
    expect(out.replaceAll(/\s+/g, ' ')).toContain('there is nothing to test for a slip');
    expect(out).toMatch(/Crate vault +60\/150/);
  });
});
