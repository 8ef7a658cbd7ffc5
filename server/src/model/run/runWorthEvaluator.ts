/**
 * Asks again and again what a run is worth while one technique's rate and a few choices change. What stands still is
 * worked out once: the stretches between the segments that can change, and what all other techniques do.
 */
import type { Constants } from '../core/constants.ts';
import type { RouteLayout } from './routeLayout.ts';
import { expectedClockTime, optionEffect, playSegment, computeRunWorth } from './runState.ts';
import type { ChosenOptions, LandingRateOf, RunState } from './runState.ts';
import type { AverageEffect } from './averageEffect.ts';

/** Segments in a row that stand still: their seconds, clock time on arriving in the first, chance to get through. */
interface FixedStretch {
  seconds: number;
  clock: number;
  lives: number;
}

export class RunWorthEvaluator {
  private readonly layout: RouteLayout;
  private readonly constants: Constants;
  private readonly technique: string;
  private readonly rateOf: LandingRateOf;
  private readonly touched: readonly number[];
  /** The stretch before each touched segment, and the one after the last. */
  private readonly stretches: readonly FixedStretch[];
  /** Effects of the options of touched choices, and the options among them that the technique has a part in. */
  private readonly effects = new Map<number, AverageEffect[]>();
  private readonly own: readonly (readonly [choice: number, option: number])[];
  private readonly held = new Map<string, number>();
  private readonly effectAt = (choice: number, option: number): AverageEffect =>
    this.effects.get(choice)![option]!;

  /**
   * @param state the run that is changed
   * @param touched numbers of the segments that can change, rising, with all that share an item with them
   */
  constructor(
    layout: RouteLayout,
    state: RunState,
    touched: readonly number[],
    technique: string,
    rateOf: LandingRateOf,
    constants: Constants,
  ) {
    this.layout = layout;
    this.constants = constants;
    this.technique = technique;
    this.rateOf = rateOf;
    this.touched = touched;
    this.stretches = stretchesOf(state, touched);
    const own: [number, number][] = [];
    for (const segment of touched) {
      for (const choice of layout.choicesInSegment[segment]!) {
        const { options } = layout.choices[choice]!;
        this.effects.set(
          choice,
          options.map((option) => optionEffect(option, rateOf)),
        );
        options.forEach((option, o) => {
          if (option.technique === technique || option.backup === technique) own.push([choice, o]);
        });
      }
    }
    this.own = own;
  }

  /** Takes another landing rate for the technique, from 0 to 1. */
  setRate(rate: number): void {
    const rateOf: LandingRateOf = (id) => (id === this.technique ? rate : this.rateOf(id));
    for (const [choice, option] of this.own) {
      this.effects.get(choice)![option] = optionEffect(this.layout.choices[choice]!.options[option]!, rateOf);
    }
  }

  /** V in seconds when these choices are played, of which only those in touched segments are looked at. */
  worth(played: ChosenOptions): number {
    const { layout, touched, stretches, held } = this;
    held.clear();
    let finalTime = 0;
    let clock = 0;
    let reached = 1;
    for (let i = 0; ; i++) {
      const still = stretches[i]!;
      finalTime += still.seconds;
      clock += reached * still.clock;
      reached *= still.lives;
      if (i === touched.length) break;
      const { seconds, survival } = playSegment(layout, touched[i]!, played, this.effectAt, held);
      finalTime += seconds;
      clock += reached * expectedClockTime(seconds, survival);
      reached *= survival;
    }
    return computeRunWorth(finalTime, clock, reached, layout.restart, this.constants).worth;
  }
}

function stretchesOf(state: RunState, touched: readonly number[]): FixedStretch[] {
  const stretches: FixedStretch[] = [{ seconds: 0, clock: 0, lives: 1 }];
  const changing = new Set(touched);
  for (let s = 0; s < state.seconds.length; s++) {
    if (changing.has(s)) {
      stretches.push({ seconds: 0, clock: 0, lives: 1 });
      continue;
    }
    const last = stretches.at(-1)!;
    last.seconds += state.seconds[s]!;
    last.clock += last.lives * expectedClockTime(state.seconds[s]!, state.survival[s]!);
    last.lives *= state.survival[s]!;
  }
  return stretches;
}
