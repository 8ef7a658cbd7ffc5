import fc from 'fast-check';
import { expect, test } from 'vitest';
import { assess, rank, ModelCache } from '../../../../server/src/model/index.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import type { Logs, RankInput, Ranking, RouteModel } from '../../../../server/src/model/index.ts';
import { block, largeCase, noLogs, plainOptions, route, runTries, segment, technique, use } from '../../../helpers/invented.ts'; // prettier-ignore

const three = route(
  [
    segment('harbor', 92, [use('kick', 3, 1), use('clip', 9, 4, { spot: 'gate' })]),
    segment('tower', 120, [use('hop', 4, 2, { spot: 'gate' }), use('swing', 6, 3)], { survive: 0.97 }),
  ],
  [
    technique('kick', { difficulty: 3 }),
    technique('clip', { difficulty: 7, needs: ['kick'] }),
    technique('hop', { difficulty: 4 }),
    technique('swing', { difficulty: 5 }),
  ],
);

const someLogs: Logs = {
  practice: [
    block('kick', 1, 20, 100, { minutes: 10 }),
    block('kick', 3, 50, 100, { minutes: 10, order: 1 }),
    block('hop', 3, 80, 100, { minutes: 10, order: 2 }),
  ],
  runs: [runTries('hop', 5, 4, 8), runTries('hop', 6, 5, 8)],
};

const asked = (more: Partial<RankInput> = {}): RankInput => ({
  route: three,
  logs: someLogs,
  asOfDay: 8,
  options: plainOptions,
  ...more,
});

function finite(ranking: Ranking): void {
  for (const row of ranking.rows) {
    for (const value of [
      row.gainPerHour,
      row.low,
      row.high,
      row.hours,
      row.gain,
      row.chanceCompetent,
      row.chanceBest,
    ]) {
      expect(Number.isFinite(value)).toBe(true);
    }
    for (const { mean, low, high } of [row.practiceNow, row.runNow, row.runThen]) {
      for (const value of [mean, low, high]) {
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThanOrEqual(1);
      }
      expect(low).toBeLessThanOrEqual(high);
    }
    expect(row.low).toBeLessThanOrEqual(row.high);
    expect(row.gainPerHour).toBeCloseTo(row.gain / row.hours, 9);
    expect(row.hours).toBeCloseTo((row.blocks * row.blockMinutes) / 60, 9);
    expect(row.reason).toMatch(/\.$/);
  }
}

test('every technique is either ranked or skipped with a reason', () => {
  const ranking = rank(asked());
  finite(ranking);
  const names = [...ranking.rows, ...ranking.skipped].map((r) => r.technique).sort();
  expect(names).toEqual(['clip', 'hop', 'kick', 'swing']);
  const best = ranking.rows.reduce((sum, row) => sum + row.chanceBest, 0);
  expect(best).toBeCloseTo(1, 6);
});

test('the same input gives the same answer, with and without what was kept from before', () => {
  const cache = new ModelCache();
  const first = rank(asked(), cache);
  expect(rank(asked(), cache)).toEqual(first);
  expect(rank(asked())).toEqual(first);
  const more = {
    practice: [...someLogs.practice, block('swing', 7, 9, 60, { minutes: 5, order: 9 })],
    runs: someLogs.runs,
  };
  expect(rank(asked({ logs: more }), cache)).toEqual(rank(asked({ logs: more })));
});

test('only the technique with a new block is worked out again, and what left the route is dropped', () => {
  const cache = new ModelCache();
  const subjectsOf = (input: RankInput) => prepareModel(input, cache).fittedTechniques;
  const before = subjectsOf(asked());
  const logs = {
    practice: [...someLogs.practice, block('kick', 7, 60, 100, { order: 9 })],
    runs: someLogs.runs,
  };
  const after = subjectsOf(asked({ logs }));
  expect(after.get('kick')?.evidence).not.toBe(before.get('kick')?.evidence);
  expect(after.get('kick')?.evidence).not.toBeNull();
  for (const id of ['clip', 'hop', 'swing']) {
    expect(after.get(id)?.evidence).toBe(before.get(id)?.evidence);
    expect(after.get(id)?.memory).toBe(before.get(id)?.memory);
  }
  const few = { ...three, techniques: three.techniques.filter(({ id }) => id === 'kick') };
  expect([...subjectsOf(asked({ route: few })).keys()]).toEqual(['kick']);
  expect(cache.forTechnique('kick')).toBe(before.get('kick')?.memory);
  expect(cache.forTechnique('clip')).not.toBe(before.get('clip')?.memory);
});

test('a block more on a long log leaves what is believed of most other techniques as it was', () => {
  const large = largeCase(60, 600, 1);
  const input = { ...large, asOfDay: 61, options: plainOptions };
  const cache = new ModelCache();
  const before = prepareModel(input, cache).fittedTechniques;
  let [same, others] = [0, 0];
  for (const id of ['t0', 't1', 't2']) {
    const practice = [...large.logs.practice, block(id, 61, 20, 60, { order: 1e6 })];
    const after = prepareModel(
      { ...input, logs: { ...large.logs, practice } },
      cache.copy(),
    ).fittedTechniques;
    for (const [other, { posterior }] of before) {
      if (other === id) {
        expect(after.get(other)?.posterior === posterior).toBe(false);
        continue;
      }
      others++;
      if (after.get(other)?.posterior === posterior) same++;
    }
  }
  expect(same / others).toBeGreaterThan(0.5);
});

test('a route with no logs at all ranks, with wide margins', () => {
  const { rows, runner } = rank(asked({ logs: noLogs }));
  expect(rows.length).toBe(4);
  for (const row of rows) {
    expect(row.high - row.low).toBeGreaterThan(row.gainPerHour / 2);
    expect(row.runThen.high - row.runThen.low).toBeGreaterThan(0.4);
  }
  expect(runner.offset.mean).toBeCloseTo(0, 6);
});

test('what needs another comes after it', () => {
  const order = rank(asked({ logs: noLogs })).rows.map((row) => row.technique);
  expect(order.indexOf('kick')).toBeLessThan(order.indexOf('clip'));
});

test('a technique that saves nothing itself is ranked for what it opens, and says so', () => {
  const opened = route(
    [segment('a', 90, [use('leap', 20, 1)])],
    [technique('step', { difficulty: 2 }), technique('leap', { needs: ['step'] })],
  );
  const { rows } = rank(asked({ route: opened, logs: noLogs }));
  expect(rows.map((row) => row.technique)).toEqual(['step', 'leap']);
  expect(rows[0]).toMatchObject({ gain: 0, breakEven: null, opensWith: ['leap'], chanceBest: 0 });
  expect(rows[0]!.reason).toContain('opens `leap`');
  expect(rows[1]!.chanceBest).toBeCloseTo(1, 6);
});

test('a need that is practised enough, or used in runs, holds nothing up', () => {
  const opened = (state: 'unlearned' | 'in-run') =>
    route(
      [segment('a', 90, [use('leap', 20, 1)])],
      [technique('step', { difficulty: 8, state }), technique('leap', { needs: ['step'] })],
    );
  const practised: Logs = {
    practice: [0, 1, 2, 3].map((day) => block('step', day, 90, 100, { minutes: 10, order: day })),
    runs: [],
  };
  const rowsOf = (r: RouteModel, logs: Logs) =>
    rank(asked({ route: r, logs })).rows.map((row) => row.technique);
  expect(rowsOf(opened('unlearned'), noLogs)).toEqual(['step', 'leap']);
  expect(rowsOf(opened('unlearned'), practised)).toEqual(['leap']);
  expect(rowsOf(opened('in-run'), noLogs)).toEqual(['leap']);
});

test('loops, unknown needs, blocked, unused and worthless techniques are skipped with a reason, the rest ranked', () => {
  const broken = route(
    [
      segment('a', 90, [
        use('good', 5, 1),
        use('loop-a', 5, 1),
        use('loop-b', 5, 1),
        use('waits', 5, 1),
        use('lost', 5, 1),
        use('worse', 0, 3),
        use('held', 5, 1, { with: 'oil' }),
        use('known', 5, 1),
        use('far', 30, 1),
      ]),
    ],
    [
      technique('good'),
      technique('loop-a', { needs: ['loop-b'] }),
      technique('loop-b', { needs: ['loop-a'] }),
      technique('waits', { needs: ['loop-a'] }),
      technique('lost', { needs: ['nowhere'] }),
      technique('worse'),
      technique('held'),
      technique('unused'),
      technique('known', { state: 'in-run' }),
      technique('slow', { difficulty: 10, attemptSeconds: 300 }),
      technique('far', { needs: ['slow'] }),
    ],
  );
  const { rows, skipped } = rank(asked({ route: broken, logs: noLogs }));
  expect(rows.map((row) => row.technique)).toEqual(['good']);
  const why = new Map(skipped.map((s) => [s.technique, s.reason]));
  expect(why.get('loop-a')).toContain('`loop-a` → `loop-b` → `loop-a`');
  expect(why.get('waits')).toContain('loop-a');
  expect(why.get('lost')).toContain('nowhere');
  expect(why.get('worse')).toContain('At no landing rate');
  expect(why.get('held')).toContain('oil');
  expect(why.get('unused')).toContain('No segment');
  expect(why.get('known')).toContain('in the run');
  expect(why.get('far')).toContain('28 daily blocks');
  expect(why.size).toBe(10);
  const all = rank(asked({ route: broken, logs: noLogs, options: { ...plainOptions, all: true } }));
  expect(all.rows.map((row) => row.technique).sort()).toEqual(['good', 'known']);
});

test('a shared spot or item is named in the reason', () => {
  const shared = route(
    [
      segment('a', 90, [use('clip', 9, 2, { spot: 'gate' }), use('hop', 4, 1, { spot: 'gate' })]),
      segment('b', 90, [use('oil', 0, 0, { take: 'oil', costs: 2 })]),
      segment('c', 90, [use('burn', 20, 2, { with: 'oil' })]),
    ],
    [
      technique('clip'),
      technique('hop', { state: 'in-run' }),
      technique('oil'),
      technique('burn', { state: 'in-run' }),
    ],
  );
  const burns: Logs = {
    practice: [0, 1, 2].map((day) => block('burn', day, 90, 100, { minutes: 10, order: day })),
    runs: [],
  };
  const why = new Map(rank(asked({ route: shared, logs: burns })).rows.map((r) => [r.technique, r.reason]));
  expect(why.get('clip')).toMatch(/shares a spot with `hop`|with `hop` in the run by then/);
  expect(why.get('oil')).toMatch(/depends on the item oil/);
});

test('scaling all run seconds scales the gains and nothing else', () => {
  const scaled = (by: number): RouteModel => ({
    ...three,
    restart: three.restart * by,
    segments: three.segments.map((s) => ({
      ...s,
      time: s.time * by,
      uses: s.uses.map((u) => ({
        ...u,
        saves: { mean: u.saves.mean * by, sd: 0 },
        misses: u.misses.map((m) => ({ ...m, loses: m.loses * by })),
      })),
    })),
  });
  const one = rank(asked()).rows;
  rank(asked({ route: scaled(3) })).rows.forEach((row, i) => {
    expect(row.technique).toBe(one[i]!.technique);
    expect(row.blocks).toBe(one[i]!.blocks);
    for (const key of ['gain', 'gainPerHour', 'low', 'high'] as const) {
      expect(row[key]).toBeCloseTo(3 * one[i]![key], 8);
    }
    expect(row.chanceBest).toBeCloseTo(one[i]!.chanceBest, 8);
    expect(row.runThen.mean).toBeCloseTo(one[i]!.runThen.mean, 10);
  });
});

test('reordering changes nothing, renaming nothing but the names', () => {
  const { route: large, logs } = largeCase(12, 60, 5);
  const plain = rank({ route: large, logs, asOfDay: 61, options: plainOptions });
  fc.assert(
    fc.property(
      fc.shuffledSubarray([...large.techniques], { minLength: large.techniques.length }),
      fc.shuffledSubarray([...logs.practice], { minLength: logs.practice.length }),
      (techniques, practice) => {
        const mixed = { route: { ...large, techniques }, logs: { ...logs, practice }, asOfDay: 61 };
        expect(rank({ ...mixed, options: plainOptions })).toEqual(plain);
      },
    ),
    { numRuns: 4 },
  );
  // Reversing the order of the ids is the hardest renaming for anything that leans on it.
  const name = (id: string): string => `x${String(900 - Number(id.slice(1)))}`;
  const renamed: RouteModel = {
    ...large,
    segments: large.segments.map((s) => ({
      ...s,
      uses: s.uses.map((u) => ({ ...u, id: name(u.id), technique: name(u.technique) })),
    })),
    techniques: large.techniques.map((t) => ({ ...t, id: name(t.id), needs: t.needs.map(name) })),
  };
  const relogged: Logs = {
    practice: logs.practice.map((e) => ({ ...e, technique: name(e.technique) })),
    runs: logs.runs.map((e) => ({ ...e, technique: name(e.technique) })),
  };
  const other = rank({ route: renamed, logs: relogged, asOfDay: 61, options: plainOptions });
  expect(other.rows.map((r) => r.technique)).toEqual(plain.rows.map((r) => name(r.technique)));
  other.rows.forEach((row, i) => {
    expect(row.gainPerHour).toBeCloseTo(plain.rows[i]!.gainPerHour, 9);
    expect(row.chanceBest).toBeCloseTo(plain.rows[i]!.chanceBest, 9);
    expect(row.blocks).toBe(plain.rows[i]!.blocks);
  });
});

test('entries after the day asked about do not count', () => {
  const later = { ...someLogs, practice: [...someLogs.practice, block('swing', 9, 90, 100, { order: 9 })] };
  expect(rank(asked({ logs: later }))).toEqual(rank(asked()));
});

test('bad numbers give finite answers', () => {
  const odd = route(
    [
      segment('a', NaN, [use('kick', 5, NaN), use('clip', Infinity, 2)], {
        survive: 0,
        luck: [{ chance: 9, adds: NaN }],
      }),
      segment('b', -4, [use('hop', 3, 0), use('swing', 2, 1, { maxTries: 1e9, retrySeconds: -1 })]),
    ],
    [
      technique('kick', { difficulty: NaN }),
      technique('clip', { difficulty: 99, attemptSeconds: 0, reloadSeconds: 0 }),
      technique('hop', { attemptSeconds: NaN }),
      technique('swing'),
    ],
  );
  const logs: Logs = {
    practice: [
      block('kick', 2, 10000, 10000, { minutes: 0 }),
      block('kick', 1, 0, 10000, { minutes: 30, order: 5 }),
      block('hop', 1, 12, 5, { minutes: NaN }),
    ],
    runs: [runTries('hop', 2, 0, 0), runTries('kick', -5, 0, 10000), runTries('clip', 3, 5, 5)],
  };
  for (const blockMinutes of [25, 0, NaN, -3]) {
    const ranking = rank({ route: odd, logs, asOfDay: 4, options: { ...plainOptions, blockMinutes } });
    finite(ranking);
    expect(ranking.rows.length + ranking.skipped.length).toBe(4);
  }
  finite(
    rank({
      route: { segments: [], techniques: [], restart: NaN },
      logs: noLogs,
      asOfDay: NaN,
      options: plainOptions,
    }),
  );
});

test('the asked confidence decides whether the reason speaks of competence', () => {
  const reasons = (confidence: number): string[] =>
    rank(asked({ options: { ...plainOptions, confidence } })).rows.map((row) => row.reason);
  const sure = rank(asked()).rows.map((row) => row.chanceCompetent >= 0.8);
  expect(reasons(0.8).map((reason) => reason.includes('likely competent'))).toEqual(sure);
  expect(reasons(0).every((reason) => reason.includes('likely competent'))).toBe(true);
});

test('own constants are used', () => {
  const now = rank(asked()).rows;
  const noSleep = rank(asked({ constants: { overnightGain: 0 } })).rows;
  expect(noSleep).not.toEqual(now);
});

test('assess gives the rates and break-evens of the ranking without a forecast', () => {
  const assessed = assess(asked());
  expect([...assessed.keys()].sort()).toEqual(['clip', 'hop', 'kick', 'swing']);
  for (const row of rank(asked()).rows) {
    const one = assessed.get(row.technique)!;
    expect(one.practiceNow).toEqual(row.practiceNow);
    expect(one.runNow).toEqual(row.runNow);
    expect(one.breakEven).toBe(row.breakEven);
    expect(one.chanceAboveBreakEvenNow).toBeGreaterThan(0);
    expect(one.chanceAboveBreakEvenNow).toBeLessThan(1);
  }
});
