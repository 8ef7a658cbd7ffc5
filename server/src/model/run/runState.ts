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
import { expectedClockTime, playSegments } from './playSegments.ts';
import type { ChosenOptions, SegmentNumbers } from './playSegments.ts';

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

/** Seconds, survival and clock time of every segment for given choices. Single segments can be computed again. */
export class RunState implements SegmentNumbers {
  readonly seconds: Float64Array;
  readonly survival: Float64Array;
  readonly clock: Float64Array;
  private readonly layout: RouteLayout;

  constructor(layout: RouteLayout) {
    this.layout = layout;
    this.seconds = Float64Array.from(layout.times);
    this.survival = Float64Array.from(layout.survival);
    this.clock = layout.times.map((seconds, s) => expectedClockTime(seconds, layout.survival[s]!));
  }

  /** A copy that can be changed independently. */
  copy(): RunState {
    const twin = new RunState(this.layout);
    twin.seconds.set(this.seconds);
    twin.survival.set(this.survival);
    twin.clock.set(this.clock);
    return twin;
  }

  /**
   * Computes the given segments again (in rising order; all segments if omitted). If an item is taken or needed in
   * one of them, the list must contain every segment in which that item is taken or needed.
   */
  recompute(played: ChosenOptions, rateOf: LandingRateOf, segments?: readonly number[]): void {
    const { layout } = this;
    const effectAt = (choice: number, option: number): AverageEffect =>
      optionEffect(layout.choices[choice]!.options[option]!, rateOf);
    playSegments(layout, segments ?? [...layout.times.keys()], played, effectAt, this);
  }

  /** T, C, V and the chance to finish. */
  worth(constants: Constants): RunWorth {
    const { seconds, survival } = this;
    let finalTime = 0;
    let clock = 0;
    let reached = 1;
    for (let s = 0; s < seconds.length; s++) {
      finalTime += seconds[s]!;
      clock += reached * this.clock[s]!;
      reached *= survival[s]!;
    }
    return computeRunWorth(finalTime, clock, reached, this.layout.restart, constants);
  }
}
