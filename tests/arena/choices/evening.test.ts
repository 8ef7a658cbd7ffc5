/** Evenings of runs with spots, backups, retries and items: what is tried, and how often. */
import { describe, expect, test } from 'vitest';
import { evening, resetChance } from '../evening.ts';
import { needFirst } from '../policies/handRules.ts';
import { savedNow } from '../policies/savedNow.ts';
import type { Tally, View } from '../policies/policy.ts';
import { chance, seedOf } from '../random.ts';
import { createRunner } from '../simulate.ts';
import { kinds } from '../truth/kinds.ts';
import type { World } from '../world.ts';
import { breakEvens } from '../worth.ts';
import { itemLinks } from './skillChoice.ts';
import { createTonight } from './tonight.ts';
import type { Tonight } from './tonight.ts';
import { triesARun } from './triesARun.ts';

const worlds = Array.from({ length: 30 }, (_, i) => createRunner(kinds['choices']!, seedOf(17, i), 0).world);

/** A runner whose last practice landed at these rates. */
function countsOf(rates: readonly number[]): (skill: number) => Tally {
  return (skill) => ({
    blocks: [{ landed: 100 * rates[skill]!, tries: 100 }],
    runs: [],
    inRun: false,
    lastDay: 0,
  });
}

function drawnRates(world: World, seed: number): number[] {
  const random = chance(seed);
  return world.skills.map(() => random.between(0.1, 0.95));
}

function tonightOf(world: World, rates: readonly number[]): Tonight {
  return createTonight(world, breakEvens(world))(countsOf(rates));
}

test('a runner tries one of the two at a spot, and what needs an item only together with what takes it', () => {
  let [rivals, users] = [0, 0];
  worlds.forEach((world, seed) => {
    const { main } = tonightOf(world, drawnRates(world, seed));
    const links = itemLinks(world.choices!);
    world.choices!.forEach(({ mate, needsItem }, i) => {
      if (mate !== null && main(i)) {
        expect(main(mate)).toBe(false);
        rivals++;
      }
      if (needsItem !== null && main(i)) {
        expect(main(links.get(needsItem)!.taker)).toBe(true);
        users++;
      }
    });
  });
  expect(rivals).toBeGreaterThan(50);
  expect(users).toBeGreaterThan(10);
});

/** The same route where a miss never ends the run. */
function withoutEnds(world: World): World {
  return { ...world, skills: world.skills.map((skill) => ({ ...skill, endsRun: false })) };
}

test('tries of many runs are those that are expected, with further tries, backups and items', () => {
  const runs = 20_000;
  let compared = { retried: 0, backups: 0, users: 0 };
  worlds.slice(0, 8).forEach((drawn, seed) => {
    const world = withoutEnds(drawn);
    const rates = drawnRates(world, seed);
    const tonight = tonightOf(world, rates);
    const counts = evening(world, runs, tonight, (i) => rates[i]!, seedOf(3, seed));
    const reached = world.segments.map((_, s) =>
      world.segments.slice(0, s).reduce((alive, { survive }) => alive * survive * (1 - resetChance), 1),
    );
    counts.forEach(({ landed, tries }, i) => {
      const expected = triesARun(world, reached, tonight, (skill) => rates[skill]!, i);
      // Five standard errors of a count whose runs add at most 3 tries each; a little more where it is tried in two ways.
      const band = (5 * Math.sqrt(3 * Math.max(expected, 0.001))) / Math.sqrt(runs);
      expect(Math.abs(tries / runs - expected)).toBeLessThan(band);
      if (tries > 1000)
        expect(Math.abs(landed / tries - rates[i]!)).toBeLessThan(5 * Math.sqrt(0.25 / tries));
      if (tries === 0) return;
      const { tries: most, needsItem } = world.choices![i]!;
      compared = {
        retried: compared.retried + (tonight.main(i) && most > 1 ? 1 : 0),
        backups: compared.backups + (tonight.main(i) ? 0 : 1),
        users: compared.users + (needsItem === null ? 0 : 1),
      };
    });
  });
  for (const seen of Object.values(compared)) expect(seen).toBeGreaterThan(2);
});

describe('the common sense of a rule by hand', () => {
  const [world] = worlds;
  const { skills, choices } = world!;
  const view: View = {
    day: 3,
    blocks: 2,
    logs: { practice: [], runs: [] },
    tallies: skills.map(() => ({
      blocks: [{ landed: 60, tries: 100 }],
      runs: [],
      inRun: false,
      lastDay: 0,
    })),
  };

  test('counts of the second at a spot only what it saves more than the first that is learned', () => {
    let seen = 0;
    choices!.forEach(({ mate, costs, takes }, i) => {
      if (mate === null || takes !== null || choices![mate]!.takes !== null) return;
      if (choices!.some(({ backup }) => backup?.skill === i)) return;
      const alone = savedNow(world!, view, () => false)(i);
      const after = savedNow(world!, view, (skill) => skill === mate)(i);
      expect(alone).toBeCloseTo(skills[i]!.saves - costs, 9);
      expect(after).toBeCloseTo(Math.max(0, skills[i]!.saves - skills[mate]!.saves), 9);
      seen++;
    });
    expect(seen).toBeGreaterThan(2);
  });

  test('counts what an item opens for what takes it, and practises that first', () => {
    for (const { taker, users } of itemLinks(choices!).values()) {
      const before = savedNow(world!, view, () => false)(taker);
      const after = savedNow(world!, view, (skill) => users.includes(skill))(taker);
      const opened = users.reduce((sum, i) => sum + skills[i]!.saves * skills[i]!.segments.length, 0);
      expect(after - before).toBeCloseTo(opened, 9);
      const unready = { ...view, tallies: view.tallies.with(taker, { ...view.tallies[taker]!, blocks: [] }) };
      for (const user of users) {
        expect(needFirst(world!, user, unready)).toBe(taker);
        expect(needFirst(world!, user, view)).toBe(user);
      }
    }
    expect(itemLinks(choices!).size).toBeGreaterThan(0);
  });
});
