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

/** A run around one touched segment: what comes before it, and what comes after it. */
interface Surroundings {
  readonly before: FixedStretch;
  readonly after: FixedStretch;
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
  private readonly hasItems: boolean;
  /** By touched segment, for the options last given to {@link holdOthers}. */
  private readonly around = new Map<number, Surroundings>();
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
    this.hasItems = touched.some((segment) => layout.tied[segment]);
  }

  /** Sets the landing rate of the technique, from 0 to 1. */
  setRate(rate: number): void {
    const rateOf: LandingRateOf = (id) => (id === this.technique ? rate : this.rateOf(id));
    for (const [choice, option] of this.own) this.setEffect(choice, option, rateOf);
  }

  /** The same for one choice only, where no other is played with the technique. */
  setRateIn(only: number, rate: number): void {
    const rateOf: LandingRateOf = (id) => (id === this.technique ? rate : this.rateOf(id));
    for (const [choice, option] of this.own) if (choice === only) this.setEffect(choice, option, rateOf);
  }

  private setEffect(choice: number, option: number, rateOf: LandingRateOf): void {
    this.effects.get(choice)![option] = optionEffect(this.layout.choices[choice]!.options[option]!, rateOf);
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

  /**
   * Prepares {@link worthChangedIn}: computes the run around each touched segment when these options are played. Until
   * the next call nothing but one segment may be played differently, so its rates must not change in the others.
   */
  holdOthers(played: ChosenOptions): void {
    const { layout, touched, stretches, numbers, around } = this;
    around.clear();
    // What is held in one segment changes the segments after it, so they cannot be kept.
    if (this.hasItems) return;
    playSegments(layout, touched, played, this.effectAt, numbers);
    const here = touched.map((s): FixedStretch => ({
      seconds: numbers.seconds[s]!,
      clock: numbers.clock[s]!,
      lives: numbers.survival[s]!,
    }));
    const after: FixedStretch[] = [];
    let rest = stretches.at(-1)!;
    for (let i = touched.length - 1; i >= 0; i--) {
      after[i] = rest;
      rest = joined(stretches[i]!, joined(here[i]!, rest));
    }
    let before = stretches[0]!;
    touched.forEach((segment, i) => {
      around.set(segment, { before, after: after[i]! });
      before = joined(joined(before, here[i]!), stretches[i + 1]!);
    });
  }

  /**
   * Like {@link worth}, where `played` differs from the options given to {@link holdOthers} only in choices of this
   * segment. It takes the time of one segment.
   */
  worthChangedIn(segment: number, played: ChosenOptions): number {
    const surroundings = this.around.get(segment);
    if (surroundings === undefined) return this.worth(played);
    const { layout, numbers } = this;
    playSegments(layout, [segment], played, this.effectAt, numbers);
    const survival = numbers.survival[segment]!;
    const { before, after } = surroundings;
    const finalTime = before.seconds + numbers.seconds[segment]! + after.seconds;
    const clock = before.clock + before.lives * (numbers.clock[segment]! + survival * after.clock);
    const reached = before.lives * survival * after.lives;
    return computeRunWorth(finalTime, clock, reached, layout.restart, this.constants).worth;
  }
}

/** Two stretches, one after the other. */
function joined(first: FixedStretch, second: FixedStretch): FixedStretch {
  return {
    seconds: first.seconds + second.seconds,
    clock: first.clock + first.lives * second.clock,
    lives: first.lives * second.lives,
  };
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
