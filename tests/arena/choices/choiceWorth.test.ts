/**
 * V of runs with spots, backups, retries and items: against every way that a tiny run can go, followed one by one under every
 * way to play it, and against the model's own V. Source: the definition of an expected value; no outside source.
 */
import { describe, expect, test } from 'vitest';
import { defaultConstants } from '../../../server/src/model/core/constants.ts';
import { chooseBaseline } from '../../../server/src/model/run/baseline.ts';
import { layOutRoute } from '../../../server/src/model/run/routeLayout.ts';
import { chance, seedOf } from '../random.ts';
import { createRunner } from '../simulate.ts';
import { kinds } from '../truth/kinds.ts';
import { createWorld, routeOf } from '../world.ts';
import type { World } from '../world.ts';
import { breakEvens, clockWeight, worthOf } from '../worth.ts';
import { choiceWorth } from './choiceWorth.ts';
import { withChoices } from './draw.ts';
import { placesOf } from './places.ts';

type Rates = readonly number[];

/** What a runner has decided to try: techniques by themselves, and those whose backup follows. */
interface Plan {
  readonly main: ReadonlySet<number>;
  readonly withBackup: ReadonlySet<number>;
}

/** V of a plan, from every way the run can go. */
function enumerate({ skills, segments, restart, choices }: World, rates: Rates, plan: Plan): number {
  let [finished, total] = [0, 0];
  const began = new Map<string, number>();
  const survived = new Map<string, { chance: number; seconds: number }>();
  const run = (s: number, chance: number, time: number, held: readonly string[]): void => {
    const segment = segments[s];
    if (segment === undefined) {
      finished += chance;
      total += chance * time;
      return;
    }
    const key = `${s} ${[...held].sort().join()}`;
    began.set(key, (began.get(key) ?? 0) + chance);
    const tried = [...skills.keys()].filter((i) => plan.main.has(i) && skills[i]!.segments.includes(s));
    const go = (n: number, by: number, here: number, items: readonly string[]): void => {
      if (by === 0) return;
      const i = tried[n];
      if (i === undefined) {
        const before = survived.get(key) ?? { chance: 0, seconds: 0 };
        const lives = by * segment.survive;
        survived.set(key, { chance: before.chance + lives, seconds: before.seconds + lives * here });
        run(s + 1, lives, time + here, items);
        return;
      }
      const { saves, loses, endsRun } = skills[i]!;
      const { tries, retrySeconds, takes, costs, needsItem, backup } = choices![i]!;
      if (needsItem !== null && !items.includes(needsItem)) {
        go(n + 1, by, here, items);
        return;
      }
      const attempt = (left: number, reached: number, spent: number): void => {
        const gets = takes === null || items.includes(takes) ? items : [...items, takes];
        go(n + 1, reached * rates[i]!, here + spent - saves, gets);
        const missed = reached * (1 - rates[i]!);
        if (endsRun) return;
        if (left > 1) attempt(left - 1, missed, spent + retrySeconds);
        else if (backup !== null && plan.withBackup.has(i)) {
          const rate = rates[backup.skill]!;
          go(n + 1, missed * rate, here + spent + loses - backup.saves, items);
          go(n + 1, missed * (1 - rate), here + spent + loses + backup.loses, items);
        } else go(n + 1, missed, here + spent + loses, items);
      };
      attempt(tries, by, costs);
    };
    go(0, chance, segment.time, held);
  };
  run(0, 1, 0, []);
  let clock = restart;
  for (const [key, chance] of began) {
    const ended = survived.get(key);
    // A run that ends in a segment takes half the time of those that survive it with the same items at its beginning.
    if (ended !== undefined) clock += (ended.seconds / ended.chance) * ((chance + ended.chance) / 2);
  }
  const final = total / finished;
  return final + clockWeight * (clock / finished - final);
}

/** Every plan that plays at most one technique of each spot. */
function everyPlan({ skills, choices }: World): Plan[] {
  let plans: { main: number[]; withBackup: number[] }[] = [{ main: [], withBackup: [] }];
  skills.forEach((_, i) => {
    const { mate, backup } = choices![i]!;
    plans = plans.flatMap((plan) => {
      if (mate !== null && plan.main.includes(mate)) return [plan];
      const without = { ...plan, main: [...plan.main, i] };
      const both = { ...without, withBackup: [...plan.withBackup, i] };
      return backup === null ? [plan, without] : [plan, without, both];
    });
  });
  return plans.map(({ main, withBackup }) => ({ main: new Set(main), withBackup: new Set(withBackup) }));
}

/** Five techniques in three segments, some of which end the run, each used once. */
function tinyWorld(seed: number): World {
  const world = createWorld({ seed, guessOff: 0, knownShare: 0 });
  const random = chance(seedOf(seed, 1));
  const skills = world.skills.slice(0, 5).map((skill) => {
    const endsRun = random.next() < 0.3;
    return {
      ...skill,
      segments: [random.whole(0, 2)],
      needs: [],
      endsRun,
      saves: random.between(1, 12),
      loses: endsRun ? 0 : random.between(0, 6),
    };
  });
  return withChoices({ ...world, skills, segments: world.segments.slice(0, 3) });
}

const ratesOf = (world: World, seed: number): number[] => {
  const random = chance(seed);
  return world.skills.map(() => random.between(0.05, 0.95));
};

describe('a tiny run', () => {
  const worlds = Array.from({ length: 40 }, (_, seed) => tinyWorld(seed));

  test('is worth what the best plan is worth over all ways that it can go', () => {
    worlds.forEach((world, seed) => {
      const rates = ratesOf(world, seed);
      const best = Math.min(...everyPlan(world).map((plan) => enumerate(world, rates, plan)));
      expect(worthOf(world)(rates)).toBeCloseTo(best, 8);
    });
  });

  test('has every choice somewhere among these', () => {
    const all = worlds.flatMap(({ choices, skills }) =>
      choices!.map((choice, i) => ({ ...choice, endsRun: skills[i]!.endsRun })),
    );
    const kindsOfUse = [
      all.some(({ mate, backup }) => mate !== null && backup !== null),
      all.some(({ mate, backup }) => mate === null && backup !== null),
      all.some(({ mate, endsRun }) => mate !== null && endsRun),
      all.some(({ tries }) => tries === 3),
      all.some(({ takes, mate }) => takes !== null && mate !== null),
      all.some(({ needsItem, endsRun }) => needsItem !== null && endsRun),
      all.some(({ takes, endsRun }) => takes !== null && endsRun),
    ];
    expect(kindsOfUse).toEqual(kindsOfUse.map(() => true));
  });
});

const routes = Array.from(
  { length: 60 },
  (_, number) => createRunner(kinds['choices']!, seedOf(31, number), 0).world,
);

/** Ways to play the places at which something ends the run or an item is taken: few enough for every one to be tried. */
function waysToPlay(world: World): number {
  return placesOf(world)
    .open.flat()
    .reduce(
      (ways, { plain, taking, ending }) => ways * (1 + plain.length + taking.flat().length + ending.length),
      1,
    );
}

/**
 * Both look for the best way to play. Where both find the same way they differ by rounding only, so a billionth of a second is far
 * more than they may differ by; where the model stops at a way that no change of two places betters, it is above.
 */
test('a route is worth what it is worth to the model, which was written apart from this, or a little less', () => {
  let [same, all] = [0, 0];
  routes.forEach((world, number) => {
    if (waysToPlay(world) > 32) return;
    const layout = layOutRoute(
      routeOf(
        world,
        () => true,
        () => true,
      ),
    );
    const numbers = new Map(world.skills.map(({ id }, i) => [id, i]));
    for (let draw = 0; draw < 5; draw++) {
      const rates = ratesOf(world, seedOf(number, draw));
      const rateOf = (technique: string): number => rates[numbers.get(technique)!]!;
      const byModel = chooseBaseline(layout, () => true, rateOf, defaultConstants).worth;
      const here = worthOf(world)(rates);
      expect(here).toBeLessThan(byModel + 1e-7);
      all++;
      if (byModel - here < 1e-7) same++;
    }
  });
  expect(all).toBeGreaterThan(150);
  expect(same / all).toBeGreaterThan(0.99);
});

test('a search group by group mostly finds the best of all ways, and nothing better', () => {
  const lost = routes.flatMap((world, number) => {
    if (waysToPlay(world) > 32) return [];
    const rates = ratesOf(world, number);
    const every = choiceWorth(world, clockWeight)(rates);
    return [choiceWorth(world, clockWeight, 0)(rates) - every];
  });
  expect(lost.length).toBeGreaterThan(30);
  for (const more of lost) expect(more).toBeGreaterThanOrEqual(-1e-9);
  expect(lost.filter((more) => more < 1e-9).length / lost.length).toBeGreaterThan(0.95);
});

test('a break-even rate is where trying begins to pay', () => {
  for (const world of routes.slice(0, 10)) {
    const choices = world.choices!.map((choice) => ({
      ...choice,
      mate: null,
      backup: null,
      needsItem: null,
    }));
    const worth = worthOf({ ...world, choices });
    const none = world.skills.map(() => 0);
    breakEvens(world).forEach((edge, i) => {
      if (edge > 0.99) return;
      expect(worth(none.with(i, edge + 0.005))).toBeLessThan(worth(none));
      expect(worth(none.with(i, Math.max(0, edge - 0.005)))).toBeCloseTo(worth(none), 9);
    });
  }
});
