import { describe, expect, it } from 'vitest';
import type { Standing } from '../../../../../server/src/model/core/standing.ts';
import { standing, standingOfChance } from '../../../../helpers/standings.ts';
import type { Assessment } from '../../../../../server/src/model/core/results.ts';
import { expectMarkedForecast, forecastsOf, plainRoute, underlined } from '../../marked.ts';

describe('set-changed-early', () => {
  const code = 'set-changed-early';
  const rate = { mean: 0.3, low: 0.2, high: 0.45 };
  const says = (...chances: [string, number][]): ReadonlyMap<string, Assessment> =>
    new Map(
      chances.map(([id, chanceAboveBreakEvenNow]) => [
        id,
        {
          standing: standingOfChance(id, chanceAboveBreakEvenNow),
          practiceNow: rate,
          runNow: rate,
          breakEven: 0.5,
          resetWeight: null,
          chanceAboveBreakEvenNow,
        },
      ]),
    );
  const stands = (given: Partial<Standing>): ReadonlyMap<string, Assessment> => {
    const [[id, usual]] = [...says(['crate-vault', 0.3])] as [[string, Assessment]];
    return new Map([[id, { ...usual, standing: standing(id, given) }]]);
  };
  const route = plainRoute.replace(
    'techniques:\n  crate-vault:',
    'techniques:\n  wall-kick: { difficulty: 2, saves: 1, loses: 1 }\n  crate-vault:',
  );
  const session = (date: string, technique: string) =>
    `  - { start: ${date}, blocks: [{ technique: ${technique}, minutes: 25 }] }\n`;
  const log = (...sessions: string[]) => ({
    'a.route.yaml': route,
    'a.practice.yaml': `route: a.route.yaml\nsessions:\n${sessions.join('')}`,
  });
  const changed = log(
    session('2026-10-01', 'crate-vault'),
    session('2026-10-02', 'crate-vault'),
    session('2026-10-08', '⟦wall-kick⟧'),
    session('2026-10-09', 'wall-kick'),
  );
  const plain = Object.fromEntries(
    Object.entries(changed).map(([name, text]) => [name, text.replace(/[⟦⟧]/g, '')]),
  );

  it('is found where another was begun before anything was competent', async () => {
    const [finding] = await expectMarkedForecast(changed, code, says(['crate-vault', 0.3]));
    expect(finding?.message).toContain(
      '`crate-vault` was no longer practised before it was competent, and `wall-kick` was begun',
    );
    expect(finding?.severity).toBe('hint');
    expect(finding?.related.map((place) => underlined(changed, place))).toEqual([
      'a.practice.yaml: crate-vault',
    ]);
  });

  it('is found where the runner gave it up without a word, not where the rule or the week file did', async () => {
    const left = { why: 'not practised', sessions: 6, lastDay: 20366 } as const;
    await expectMarkedForecast(changed, code, stands({ kind: 'aside', cause: left }));
    await expectMarkedForecast(changed, code, stands({ kind: 'again', cause: { why: 'costs time' } }));
    const hopeless = { why: 'hopeless', days: 6, minutes: 150, chance: 0.04 } as const;
    expect(await forecastsOf(plain, stands({ kind: 'aside', cause: hopeless }))).toEqual([]);
    expect(await forecastsOf(plain, stands({ kind: 'aside', cause: { why: 'put aside by hand' } }))).toEqual(
      [],
    );
  });

  it('is not found where it was competent, left out, practised on, or only tried out before', async () => {
    expect(await forecastsOf(plain, says(['crate-vault', 0.85]))).toEqual([]);
    const week = (rest: string) => ({ ...plain, 'a.week.yaml': `route: a.route.yaml\n${rest}\n` });
    const leftOut = stands({ kind: 'left-out', cause: { why: 'left out' } });
    expect(await forecastsOf(week('leave_out: [crate-vault]'), leftOut)).toEqual([]);
    const on = log(
      session('2026-10-01', 'crate-vault'),
      session('2026-10-02', 'crate-vault'),
      session('2026-10-08', 'wall-kick'),
      session('2026-10-09', 'crate-vault'),
    );
    expect(await forecastsOf(on, says(['crate-vault', 0.3]))).toEqual([]);
    const tried = log(session('2026-10-02', 'crate-vault'), session('2026-10-08', 'wall-kick'));
    expect(await forecastsOf(tried, says(['crate-vault', 0.3]))).toEqual([]);
  });
});
