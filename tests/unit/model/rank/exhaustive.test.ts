import { expect, test } from 'vitest';
import { meanPracticeRate, practiceLogits } from '../../../../server/src/model/skill/rateEstimates.ts';
import { rank } from '../../../../server/src/model/index.ts';
import type { PracticeEntry, RankInput } from '../../../../server/src/model/index.ts';
import { orderCandidates } from '../../../../server/src/model/rank/rankingOrder.ts';
import { resetLine } from '../../../../server/src/model/run/resetLine.ts';
import { chance } from '../../../arena/random.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';
import { playAll } from '../../../helpers/runPlans.ts';

/** A small route of up to five techniques, some needing earlier ones, some practised already; four blocks ahead. */
function inventRoute(seed: number): RankInput {
  const random = chance(seed);
  const count = random.whole(3, 5);
  const ids = Array.from({ length: count }, (_, i) => `t${i}`);
  const techniques = ids.map((id, i) =>
    technique(id, {
      difficulty: random.between(1, 6),
      needs: ids.slice(0, i).filter(() => random.next() < 0.4),
      attemptSeconds: random.between(1, 6),
    }),
  );
  // Some save nothing themselves: they are worth what they open.
  const uses = ids.map((id) =>
    use(id, random.next() < 0.25 ? 0 : random.between(1, 9), random.between(0.2, 4)),
  );
  const practice: PracticeEntry[] = ids
    .filter(() => random.next() < 0.3)
    .map((id, order) => block(id, 3, random.whole(0, 60), 60, { order }));
  return {
    route: route([segment('a', 100, uses.slice(0, 2)), segment('b', 80, uses.slice(2))], techniques),
    logs: { practice, runs: [] },
    asOfDay: 5,
    options: plainOptions,
    constants: { horizonBlocks: 4 },
  };
}

interface Small {
  readonly gains: Float64Array;
  readonly needs: readonly string[];
  /** Blocks until its mean rate in practice is one half; Infinity beyond the four. */
  readonly readyAt: number;
}
type Blocks = ReadonlyMap<string, number>;

/** What has the most gain a block beyond what was made already, of all ways to give out blocks. */
function bestOfAll(items: ReadonlyMap<string, Small>, base: Blocks, closed: ReadonlySet<string>) {
  let best: { rate: number; blocks: Blocks } = { rate: 0, blocks: base };
  const ids = [...items.keys()];
  const blocks = new Map<string, number>();
  const visit = (i: number): void => {
    const id = ids[i];
    if (id !== undefined) {
      const from = base.get(id) ?? 0;
      const last = closed.has(id) ? from : 4;
      for (let n = from; n <= last; n++) {
        blocks.set(id, n);
        visit(i + 1);
      }
      return;
    }
    let [gain, spent] = [0, 0];
    for (const [one, { gains, needs }] of items) {
      const n = blocks.get(one)!;
      const before = base.get(one) ?? 0;
      if (n > 0 && needs.some((need) => (blocks.get(need) ?? 0) < items.get(need)!.readyAt)) return;
      gain += gains[n]! - gains[before]!;
      spent += n - before;
    }
    if (spent > 0 && gain / spent > best.rate * (1 + 1e-9)) {
      best = { rate: gain / spent, blocks: new Map(blocks) };
    }
  };
  visit(0);
  return best;
}

/** All that is joined to a technique by needs. */
function joined(items: ReadonlyMap<string, Small>, from: string): Set<string> {
  const group = new Set([from]);
  for (const id of group) {
    for (const need of items.get(id)!.needs) group.add(need);
    for (const [other, { needs }] of items) if (needs.includes(id)) group.add(other);
  }
  return group;
}

test('the order of the ranking is that of the best set, then the best of what is left, of all sets there are', () => {
  let together = 0;
  for (let seed = 0; seed < 50; seed++) {
    const input = inventRoute(seed);
    const { candidates, ranked: placed } = orderCandidates(input);
    const gains = new Map(placed.map((p) => [p.candidate.id, p.gains]));
    const items = new Map(
      candidates.map(({ id, subject, levels }): [string, Small] => {
        const mean = (x: number): number =>
          meanPracticeRate(subject.posterior, practiceLogits(subject.posterior, x));
        const readyAt = [...levels.practised].findIndex((x) => mean(x) >= 0.5);
        return [id, { gains: gains.get(id)!, needs: [], readyAt: readyAt < 0 ? Infinity : readyAt }];
      }),
    );
    for (const { id, needs } of input.route.techniques) {
      const item = items.get(id);
      const open = needs.filter((need) => items.has(need) && items.get(need)!.readyAt > 0);
      if (item !== undefined) items.set(id, { ...item, needs: open });
    }

    const rows = [...rank(input).rows];
    let base: Blocks = new Map();
    for (;;) {
      const closed = new Set(
        [...items.keys()].filter((id) => [...joined(items, id)].every((other) => (base.get(other) ?? 0) > 0)),
      );
      const { rate, blocks } = bestOfAll(items, base, closed);
      if (rate === 0) break;
      const members = [...items.keys()].filter((id) => (base.get(id) ?? 0) === 0 && blocks.get(id)! > 0);
      const next = rows.splice(0, members.length);
      expect(next.map((row) => row.technique).sort()).toEqual(members);
      next.forEach((row, i) => {
        expect(row.blocks).toBe(blocks.get(row.technique));
        expect([...row.opensWith].sort()).toEqual(members.filter((id) => id !== row.technique));
        const waitsFor = items.get(row.technique)!.needs;
        expect(next.slice(i).every((later) => !waitsFor.includes(later.technique))).toBe(true);
        // Gain of the set in seconds an hour: what the place in the order rests on. A block is 25 minutes.
        const place = placed.find((p) => p.candidate.id === row.technique)!;
        expect(place.setGainPerHour).toBeCloseTo((rate * 60) / 25, 9);
      });
      if (members.length > 1) together++;
      base = blocks;
    }
    // What no set takes up comes last.
    for (const { technique: id } of rows) expect(base.get(id) ?? 0).toBe(0);
  }
  // The routes must put the needs to the test, not only single techniques in order.
  expect(together).toBeGreaterThan(12);
});

test('reset line: of all policies on a tiny route, and not only of all lines, none beats more targets an hour', () => {
  let decided = 0;
  for (let seed = 0; seed < 14; seed++) {
    const random = chance(seed);
    const parts = Array.from({ length: 3 }, () => ({
      time: random.whole(3, 9),
      slow: random.between(0.1, 0.9),
      adds: random.whole(1, 3),
      stuck: random.between(0.1, 0.5),
      costs: random.whole(4, 8),
      survive: random.between(0.6, 1),
    }));
    const usual = parts.map(({ time, slow, adds, stuck, costs }) => time + slow * adds + stuck * costs);
    const least = parts.reduce((sum, { time }) => sum + time, 0);
    const target = least + random.whole(1, 12) + 0.5;
    const restart = 14;

    // Every way a segment can go alive: seconds and chance.
    const ways = parts.map(({ time, slow, adds, stuck, costs }) =>
      [0, 1].flatMap((s) =>
        [0, 1].map((c) => ({
          takes: time + s * adds + c * costs,
          chance: (s === 1 ? slow : 1 - slow) * (c === 1 ? stuck : 1 - stuck),
        })),
      ),
    );
    const first = [...new Set(ways[0]!.map((way) => way.takes))];
    const second = [...new Set(first.flatMap((t) => ways[1]!.map((way) => t + way.takes)))];
    const states = [...first.map((t) => `0 ${t}`), ...second.map((t) => `1 ${t}`)];
    /** Targets beaten and clock spent from a state on, by the policy with these bits. */
    const onwards = (segmentNumber: number, time: number, goesOn: (state: string) => boolean) => {
      const { survive } = parts[segmentNumber]!;
      let beaten = 0;
      let clock = (1 - survive) * (usual[segmentNumber]! / 2);
      for (const { takes, chance: share } of ways[segmentNumber]!) {
        const chanceOf = survive * share;
        const at = time + takes;
        clock += chanceOf * takes;
        if (segmentNumber === 2) {
          if (at < target) beaten += chanceOf;
        } else if (goesOn(`${segmentNumber} ${at}`)) {
          const then = onwards(segmentNumber + 1, at, goesOn);
          beaten += chanceOf * then.beaten;
          clock += chanceOf * then.clock;
        }
      }
      return { beaten, clock };
    };
    const numbers = new Map(states.map((state, i) => [state, i]));
    let best = 0;
    for (let policy = 0; policy < 2 ** states.length; policy++) {
      const { beaten, clock } = onwards(0, 0, (state) => ((policy >> numbers.get(state)!) & 1) === 1);
      best = Math.max(best, (3600 * beaten) / (restart + clock));
    }
    const segments = parts.map(({ time, slow, adds, stuck, costs, survive }, s) =>
      segment(`s${s}`, time, [], {
        spread: 0,
        survive,
        luck: [
          { chance: slow, adds },
          { chance: stuck, adds: costs },
        ],
      }),
    );
    const found = resetLine(playAll(segments, {}, 1).plan, target);
    expect(found.perHour.line / best).toBeCloseTo(1, 6);
    if (found.perHour.line > found.perHour.never * 1.001) decided++;
  }
  // On most of these routes a reset pays at all.
  expect(decided).toBeGreaterThan(6);
});
