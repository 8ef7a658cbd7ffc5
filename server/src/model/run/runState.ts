/**
 * Computes the worth of a run when given options are played at given landing rates.
 *
 * T is the expected final time of a finished run, C the clock time spent for each finished run, and V = T + w·(C −
 * T), in seconds, is what practice lowers.
 */
import type { Constants } from '../core/constants.ts';
import type { RouteLayout, PlayOption } from './routeLayout.ts';
import { averageEffect } from './averageEffect.ts';
import type { AverageEffect } from './averageEffect.ts';

/** For each choice the number of the option played, or -1 for the safe way. */
export type ChosenOptions = Int32Array;

/** Landing rate in a run of a technique. */
export type LandingRateOf = (technique: string) => number;

/** The worth of a run and its components, in seconds. */
export interface RunWorth {
  readonly finalTime: number;
  readonly clockPerFinish: number;
  readonly worth: number;
  readonly finishChance: number;
}

/** The effect of an option at the given rates. */
export function optionEffect(option: PlayOption, rateOf: LandingRateOf): AverageEffect {
  const { backup, backupPlain } = option;
  const after =
    backup === null || backupPlain === null ? undefined : averageEffect(backupPlain, rateOf(backup));
  return averageEffect(option.plain, rateOf(option.technique), after);
}

/**
 * Expected clock time in a segment for a run that reaches it. A run that ends in the segment takes half of its
 * time.
 *
 * @example
 * expectedClockTime(60, 0.5) // 45
 */
export function expectedClockTime(seconds: number, survival: number): number {
  return (seconds * (1 + survival)) / 2;
}

/**
 * T, C, V and the chance to finish, from sums over all segments: seconds, clock time, and the chance to reach the
 * end.
 *
 * @example
 * computeRunWorth(3000, 3000, 0.5, 14, defaultConstants).clockPerFinish // 6028
 * computeRunWorth(3000, 3000, 0.5, 14, defaultConstants).worth // 3030.28
 */
export function computeRunWorth(
  finalTime: number,
  clock: number,
  reached: number,
  restart: number,
  { clockWeight }: Constants,
): RunWorth {
  const finishChance = Math.max(reached, 1e-12);
  const clockPerFinish = (clock + restart) / finishChance;
  const worth = finalTime + clockWeight * (clockPerFinish - finalTime);
  return { finalTime, clockPerFinish, worth, finishChance };
}

/**
 * Computes the expected seconds and the survival of one segment with its choices.
 *
 * @param effectAt the effect of an option of a choice
 * @param held chance that each item is held; items picked up in this segment are added
 */
export function playSegment(
  layout: RouteLayout,
  segment: number,
  played: ChosenOptions,
  effectAt: (choice: number, option: number) => AverageEffect,
  held: Map<string, number>,
): { seconds: number; survival: number } {
  let seconds = layout.times[segment]!;
  let survival = layout.survival[segment]!;
  for (const choice of layout.choicesInSegment[segment] ?? []) {
    const number = played[choice]!;
    const option = layout.choices[choice]?.options[number];
    if (option === undefined) continue;
    const { use } = option;
    const effect = effectAt(choice, number);
    const open = use.with === undefined ? 1 : (held.get(use.with) ?? 0);
    const lives = 1 - open * (1 - effect.survival);
    seconds -= (open * effect.survival * effect.seconds) / lives;
    survival *= lives;
    if (use.take !== undefined) {
      const landed = (open * effect.lands) / lives;
      held.set(use.take, 1 - (1 - (held.get(use.take) ?? 0)) * (1 - landed));
    }
  }
  return { seconds, survival };
}

/** Seconds and survival of every segment for given choices. Single segments can be computed again. */
export class RunState {
  readonly seconds: Float64Array;
  readonly survival: Float64Array;
  private readonly layout: RouteLayout;

  constructor(layout: RouteLayout) {
    this.layout = layout;
    this.seconds = Float64Array.from(layout.times);
    this.survival = Float64Array.from(layout.survival);
  }

  /** A copy that can be changed independently. */
  copy(): RunState {
    const twin = new RunState(this.layout);
    twin.seconds.set(this.seconds);
    twin.survival.set(this.survival);
    return twin;
  }

  /**
   * Computes the given segments again (in rising order; all segments if omitted). If an item is taken or needed in
   * one of them, the list must contain every segment in which that item is taken or needed.
   */
  recompute(played: ChosenOptions, rateOf: LandingRateOf, segments?: readonly number[]): void {
    const { layout } = this;
    const held = new Map<string, number>();
    const effectAt = (choice: number, option: number): AverageEffect =>
      optionEffect(layout.choices[choice]!.options[option]!, rateOf);
    const count = segments?.length ?? layout.times.length;
    for (let i = 0; i < count; i++) {
      const segment = segments?.[i] ?? i;
      const { seconds, survival } = playSegment(layout, segment, played, effectAt, held);
      this.seconds[segment] = seconds;
      this.survival[segment] = survival;
    }
  }

  /** T, C, V and the chance to finish. */
  worth(constants: Constants): RunWorth {
    const { seconds, survival } = this;
    let finalTime = 0;
    let clock = 0;
    let reached = 1;
    for (let s = 0; s < seconds.length; s++) {
      finalTime += seconds[s]!;
      clock += reached * expectedClockTime(seconds[s]!, survival[s]!);
      reached *= survival[s]!;
    }
    return computeRunWorth(finalTime, clock, reached, this.layout.restart, constants);
  }
}
