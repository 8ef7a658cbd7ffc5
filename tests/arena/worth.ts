/**
 * What a run is worth at true landing rates, in seconds: expected final time plus a hundredth of the clock time
 * lost to resets, each technique used only where that lowers it. Written apart from the model on purpose.
 */
import { choiceWorth } from './choices/choiceWorth.ts';
import { plainChoice } from './choices/skillChoice.ts';
import type { World } from './world.ts';

/** Worth of a second of clock time against a second of the finished run. */
export const clockWeight = 0.01;

/** Works out V from landing rates in runs, one a technique. */
export type Worth = (rates: ArrayLike<number>) => number;

function chain(world: World, seconds: Float64Array, survival: Float64Array): number {
  let final = 0;
  let clock = world.restart;
  let reached = 1;
  for (let s = 0; s < seconds.length; s++) {
    final += seconds[s]!;
    clock += (reached * seconds[s]! * (1 + survival[s]!)) / 2;
    reached *= survival[s]!;
  }
  return final + clockWeight * (clock / Math.max(reached, 1e-9) - final);
}

/** V of a world as a function of the landing rates. */
export function worthOf(world: World): Worth {
  if (world.choices !== undefined) return choiceWorth(world, clockWeight);
  const seconds = new Float64Array(world.segments.length);
  const survival = new Float64Array(world.segments.length);
  const ending = [...world.skills.keys()].filter((i) => world.skills[i]!.endsRun);
  const others = [...world.skills.keys()].filter((i) => !world.skills[i]!.endsRun);
  const times = Float64Array.from(world.segments, ({ time }) => time);
  const survives = Float64Array.from(world.segments, ({ survive }) => survive);
  return (rates) => {
    seconds.set(times);
    survival.set(survives);
    for (const i of others) {
      const { saves, loses, segments } = world.skills[i]!;
      const gain = rates[i]! * saves - (1 - rates[i]!) * loses;
      if (gain > 0) for (const s of segments) seconds[s]! -= gain;
    }
    let best = chain(world, seconds, survival);
    const used = new Set<number>();
    const toggle = (i: number, on: boolean): void => {
      const skill = world.skills[i]!;
      const rate = Math.max(rates[i]!, 1e-6);
      for (const s of skill.segments) {
        seconds[s]! += on ? -skill.saves : skill.saves;
        survival[s]! *= on ? rate : 1 / rate;
      }
    };
    for (let changed = true, pass = 0; changed && pass < 4; pass++) {
      changed = false;
      for (const i of ending) {
        const on = !used.has(i);
        toggle(i, on);
        const now = chain(world, seconds, survival);
        if (now < best - 1e-12) {
          best = now;
          changed = true;
          if (on) used.add(i);
          else used.delete(i);
        } else toggle(i, !on);
      }
    }
    return best;
  };
}

/**
 * Least landing rate in a run at which each technique pays by itself: no other one that ends the run is used, the item that it
 * needs is held, and it has neither a backup nor a rival at its spot.
 */
export function breakEvens(world: World): number[] {
  const choices = world.choices?.map((choice) => ({ ...choice, mate: null, backup: null, needsItem: null }));
  const worth = worthOf({ ...world, choices });
  const rates = new Float64Array(world.skills.length);
  const without = worth(rates);
  return world.skills.map((skill, i) => {
    const { tries, costs } = choices?.[i] ?? plainChoice;
    if (!skill.endsRun && tries === 1 && costs === 0) return skill.loses / (skill.saves + skill.loses);
    let low = 0;
    let high = 1;
    for (let step = 0; step < 40; step++) {
      const middle = (low + high) / 2;
      rates[i] = middle;
      if (worth(rates) < without - 1e-12) high = middle;
      else low = middle;
    }
    rates[i] = 0;
    return high;
  });
}
