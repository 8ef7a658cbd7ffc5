/** What the tool forecasts for a simulated runner on a morning, and what becomes true. */
import { ModelCache, rank } from '../../server/src/model/index.ts';
import type { Constants, Logs, RankInput } from '../../server/src/model/index.ts';
import { buildRateCurve } from '../../server/src/model/rank/rateCurve.ts';
import type { CurvePoint } from '../../server/src/model/rank/rateCurve.ts';
import { savePerDifficulty } from './policies/handRules.ts';
import { sameFour } from './policies/lookingBack.ts';
import type { View } from './policies/policy.ts';
import { createRunner, simulate } from './simulate.ts';
import type { Runner } from './simulate.ts';
import { trueGain } from './trueGain.ts';
import { kinds } from './truth/kinds.ts';
import { inRun } from './truth/truth.ts';
import type { Progress } from './truth/truth.ts';
import { days, firstDay, routeOf } from './world.ts';

/** The day, counted from 0, on whose morning the forecasts are made. What becomes of them is seen after {@link days} days. */
const askedOn = 14;

/** A technique with fewer tries in practice than this, but with some, is not asked about. */
const leastTries = 60;

/** Most techniques of a route, so that a runner takes about a second. */
const mostTechniques = 20;

/**
 * What is forecast: landing rates today; at the end, after the practice that the technique really got; at the end, where it was
 * no longer practised, but perhaps tried in runs, which a forecast does not count; and seconds gained an hour in the blocks that
 * the ranking tells.
 */
export const questions = ['practiceNow', 'runNow', 'practiceThen', 'runThen', 'leftAlone', 'gain'] as const;
export type Question = (typeof questions)[number];

/**
 * Techniques that were practised in the first two weeks, that nobody ever tried, and that were learned before the logs began and
 * hardly practised since.
 */
export const groups = ['practised', 'never tried', 'learned before'] as const;
export type Group = (typeof groups)[number];

/** A forecast with its 80 % range, and the truth: rates as fractions, gains in seconds of V an hour. */
export interface Told {
  readonly question: Question;
  readonly group: Group;
  readonly mean: number;
  readonly low: number;
  readonly high: number;
  readonly truth: number;
}

/** A runner's morning: where every technique stands, and what the tool and the runner know of it. */
interface Morning {
  readonly state: readonly Progress[];
  readonly logs: Logs;
  readonly tallies: readonly {
    readonly inRun: boolean;
    readonly practised: number;
    readonly inRuns: number;
  }[];
}

const triesOf = (of: readonly { readonly tries: number }[]): number =>
  of.reduce((sum, { tries }) => sum + tries, 0);

function morningOf(state: readonly Progress[], { logs, tallies }: View): Morning {
  return {
    state: [...state],
    logs: { practice: [...logs.practice], runs: [...logs.runs] },
    tallies: tallies.map(({ inRun: tried, blocks, runs }) => ({
      inRun: tried,
      practised: triesOf(blocks),
      inRuns: triesOf(runs),
    })),
  };
}

function groupOf({ world }: Runner, { tallies }: Morning, skill: number): Group | null {
  const { practised, inRuns } = tallies[skill]!;
  if (practised >= leastTries) return 'practised';
  if (world.skills[skill]!.known) return 'learned before';
  return practised === 0 && inRuns === 0 ? 'never tried' : null;
}

/**
 * All forecasts for the runner of a kind with a seed, who practises by one of two hand rules, so that the logs do not depend on the
 * model.
 *
 * @param constants constants that replace the defaults: a planted fault, or a trial
 */
export function forecastsFor(kind: string, seed: number, constants: Partial<Constants> = {}): Told[] {
  const runner = createRunner(kinds[kind]!, seed, 0, mostTechniques);
  const { world } = runner;
  const mornings = new Map<number, Morning>();
  simulate(runner, seed % 2 === 0 ? savePerDifficulty : sameFour, (day, state, view) => {
    if (day === askedOn || day === days) mornings.set(day, morningOf(state, view));
  });
  const [today, end] = [mornings.get(askedOn)!, mornings.get(days)!];
  const input: RankInput = {
    route: routeOf(
      world,
      (i) => today.tallies[i]!.inRun,
      (i) => today.tallies[i]!.practised > 0,
    ),
    logs: today.logs,
    asOfDay: firstDay + askedOn,
    options: { blockMinutes: world.blockMinutes, confidence: 0.8, all: true },
    constants,
  };
  const cache = new ModelCache();
  return [...ratesTold(runner, today, end, input, cache), ...gainsTold(runner, today, input, cache)];
}

/** Landing rates as the curve of each technique shows them, with the blocks that it really got as the planned ones. */
function ratesTold(
  runner: Runner,
  today: Morning,
  end: Morning,
  input: RankInput,
  cache: ModelCache,
): Told[] {
  const { world, truth } = runner;
  return world.skills.flatMap(({ id }, i): Told[] => {
    const group = groupOf(runner, today, i);
    if (group === null) return [];
    const planned = end.logs.practice.filter(
      ({ technique, day }) => technique === id && day >= input.asOfDay,
    );
    const { points } = buildRateCurve(input, id, planned, firstDay + days, cache)!;
    const ahead = points.filter((point) => point.ahead);
    const told = (question: Question, point: CurvePoint, which: 'practice' | 'run', at: Progress): Told => {
      const learning = truth.learnings[i]!;
      const trueRate = which === 'run' ? inRun(learning, at) : learning.rate(at);
      return { question, group, ...point[which], truth: trueRate };
    };
    const [now, then] = [ahead[0]!, ahead.at(-1)!];
    const rows = [
      told('practiceNow', now, 'practice', today.state[i]!),
      told('runNow', now, 'run', today.state[i]!),
    ];
    if (planned.length > 0)
      rows.push(
        told('practiceThen', then, 'practice', end.state[i]!),
        told('runThen', then, 'run', end.state[i]!),
      );
    else if (group !== 'never tried') rows.push(told('leftAlone', then, 'practice', end.state[i]!));
    return rows;
  });
}

/** Gains an hour as the rows of the ranking tell them, each after its own blocks. */
function gainsTold(runner: Runner, today: Morning, input: RankInput, cache: ModelCache): Told[] {
  const numbers = new Map(runner.world.skills.map(({ id }, i) => [id, i]));
  return rank(input, cache).rows.flatMap(({ technique, gainPerHour, low, high, blocks, hours }): Told[] => {
    const i = numbers.get(technique)!;
    const group = groupOf(runner, today, i);
    if (group === null) return [];
    const gained = trueGain(runner, today.state, (skill) => today.tallies[skill]!.inRun, i, blocks);
    return [{ question: 'gain', group, mean: gainPerHour, low, high, truth: gained / hours }];
  });
}
