/**
 * Computes the worth of a run many times while one technique's landing rate and a few choices change. Everything
 * that does not change is computed once: the segments between those that can change, and the effects of all other
 * techniques.
 */
import type { Constants } from '../core/constants.ts';
import type { RouteLayout } from './routeLayout.ts';
import { playSegments } from './playSegments.ts';
import type { ChosenOptions, SegmentNumbers } from './playSegments.ts';
import { optionEffect, computeRunWorth } from './runState.ts';
import type { LandingRateOf, RunState } from './runState.ts';
import type { AverageEffect } from './averageEffect.ts';

/**
 * Consecutive segments that do not change: their total seconds, the expected clock time of a run that reaches the
 * first of them, and the chance to survive them all.
 */
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
  /** The unchanged segments before each touched segment, and those after the last one. */
  private readonly stretches: readonly FixedStretch[];
  /** Effects of the options in touched choices, and the options among them that use the technique. */
  private readonly effects = new Map<number, AverageEffect[]>();
  private readonly own: readonly (readonly [choice: number, option: number])[];
  private readonly numbers: SegmentNumbers;
  private readonly effectAt = (choice: number, option: number): AverageEffect =>
    this.effects.get(choice)![option]!;

  /**
   * @param state the run to start from
   * @param touched numbers of the segments that can change, in rising order, including all segments that share an
   * item with them
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
    this.numbers = state.copy();
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

  /** Sets the landing rate of the technique, from 0 to 1. */
  setRate(rate: number): void {
    const rateOf: LandingRateOf = (id) => (id === this.technique ? rate : this.rateOf(id));
    for (const [choice, option] of this.own) {
      this.effects.get(choice)![option] = optionEffect(this.layout.choices[choice]!.options[option]!, rateOf);
    }
  }

  /** V in seconds when these options are played. Only the choices in touched segments are read. */
  worth(played: ChosenOptions): number {
    const { layout, touched, stretches, numbers } = this;
    playSegments(layout, touched, played, this.effectAt, numbers);
    let finalTime = 0;
    let clock = 0;
    let reached = 1;
    for (let i = 0; ; i++) {
      const fixed = stretches[i]!;
      finalTime += fixed.seconds;
      clock += reached * fixed.clock;
      reached *= fixed.lives;
      if (i === touched.length) break;
      const s = touched[i]!;
      finalTime += numbers.seconds[s]!;
      clock += reached * numbers.clock[s]!;
      reached *= numbers.survival[s]!;
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
    last.clock += last.lives * state.clock[s]!;
    last.lives *= state.survival[s]!;
  }
  return stretches;
}
