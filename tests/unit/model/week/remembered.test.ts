import { afterEach, describe, expect, it, vi } from 'vitest';
import { MemoCache } from '../../../../server/src/incremental/memoCache.ts';
import { ModelCache } from '../../../../server/src/model/core/modelCache.ts';
import { expectationInRun, practiceLogits } from '../../../../server/src/model/skill/rateEstimates.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import { tabulate } from '../../../../server/src/model/core/rateTable.ts';
import { levelStep } from '../../../../server/src/model/week/levelTable.ts';
import { planWeek } from '../../../../server/src/model/week/planWeek.ts';
import type { PlanInput } from '../../../../server/src/model/week/planWeek.ts';
import { rateDistribution } from '../../../../server/src/model/week/rateDistribution.ts';
import { simpleStandings } from '../../../helpers/weekStandings.ts';
import { block, route, segment, technique, use } from '../../../helpers/invented.ts';

const ids = ['ash', 'bell', 'crag', 'dune', 'elm', 'fern'];

/** Six techniques of which `dune` is practised; what `bell` saves and how often `dune` landed may be changed. */
function ask(bellSaves = 3, duneLanded = 30): PlanInput {
  const segments = ids.map((id, i) =>
    segment(`s-${id}`, 60, [use(id, id === 'bell' ? bellSaves : 2 + i, 1)]),
  );
  const practice = [97, 98, 99].map((day) => block('dune', day, duneLanded, 150, { minutes: 25 }));
  const made = route(
    segments,
    ids.map((id, i) => technique(id, { difficulty: 2 + i, needs: id === 'fern' ? ['elm'] : [] })),
  );
  return {
    route: made,
    standings: simpleStandings(made, { practice }, 100),
    logs: { practice, runs: [] },
    asOfDay: 100,
    options: { blockMinutes: 25, confidence: 0.8, all: false },
    minutes: Array.from({ length: 14 }, (_, d) => (d % 7 < 5 ? 100 : 0)),
    evaluations: 60,
    boundRounds: 0,
  };
}

/** Counts, by name, what is really worked out while something runs. */
function counting(run: () => void): Map<string, number> {
  const counts = new Map<string, number>();
  const whole = Object.getOwnPropertyDescriptor(MemoCache.prototype, 'getOrCompute')
    ?.value as MemoCache['getOrCompute'];
  vi.spyOn(MemoCache.prototype, 'getOrCompute').mockImplementation(function <T>(
    this: MemoCache,
    name: string,
    from: readonly unknown[],
    work: () => T,
  ): T {
    return whole.call<MemoCache, [string, readonly unknown[], () => T], T>(this, name, from, () => {
      counts.set(name, (counts.get(name) ?? 0) + 1);
      return work();
    });
  });
  run();
  vi.restoreAllMocks();
  return counts;
}

afterEach(() => vi.restoreAllMocks());

describe('a plan with a memory', () => {
  it('is the same as one worked out from nothing, after any edit', () => {
    const cache = new ModelCache();
    for (const input of [ask(), ask(5, 90), ask()]) {
      expect(planWeek(input, cache)).toEqual(planWeek(input));
    }
  });

  it('works out the tables of all techniques once, and after another saving those of its own', () => {
    const cache = new ModelCache();
    const tables = 'tables of the week';
    expect(counting(() => planWeek(ask(), cache)).get(tables)).toBe(ids.length);
    const again = counting(() => planWeek(ask(), cache));
    expect([...again].filter(([name]) => /week|morning|gains|level when/.test(name))).toEqual([]);
    expect(counting(() => planWeek(ask(4), cache)).get(tables)).toBe(1);
  });
});

describe('the shares of the rates at a level', () => {
  it('sum up any saving as the whole posterior does', () => {
    const { fittedTechniques: subjects, rates, constants } = prepareModel(ask());
    const kink = tabulate((rate) => Math.max(0, 4 * rate - 1), constants.rateFloor);
    for (const id of ['ash', 'dune']) {
      const { posterior } = subjects.get(id)!;
      const shares = rateDistribution(posterior, rates);
      for (const index of [0, 7, 30, 80]) {
        const x = practiceLogits(posterior, index * levelStep);
        // Parts lighter than 1e-9 are left out.
        expect(shares.expected(index, kink)).toBeCloseTo(expectationInRun(posterior, x, kink), 3);
        expect(shares.expected(index, rates)).toBeCloseTo(expectationInRun(posterior, x, rates), 4);
      }
    }
  });
});
