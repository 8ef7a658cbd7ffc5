/** Plans the coming weeks: the practice set and its blocks, for the greatest area under the expected gain. */
import { orderCandidatesInSteps } from '../rank/rankingOrder.ts';
import type { RankingOrder } from '../rank/rankingOrder.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import { clamp, finiteOr, minutesPerDay } from '../core/numbers.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { Standing } from '../core/standing.ts';
import type { StandingKind } from '../core/types.ts';
import type { RankInput } from '../run/preparedModel.ts';
import { upperBoundSteps } from './upperBound.ts';
import { daysSincePractice } from './setFromLogs.ts';
import { exhaustiveSearch } from './exhaustiveSearch.ts';
import { createPlanSimulator } from './planSimulator.ts';
import type { PlanSimulator } from './planSimulator.ts';
import { isMemberAtStart, planItemsInSteps } from './planItems.ts';
import { blockCounts } from './planProblem.ts';
import type { PlanProblem, Schedule } from './planProblem.ts';
import { localSearchInSteps } from './localSearch.ts';
import { possibleSetSizes, restsAfterBlocks, unusedMinutes } from './sessions.ts';
import type { UnusedMinutes } from './sessions.ts';
import { minutesAvailable } from './allocateBlocks.ts';
import { planGainSpread } from './planGainSpread.ts';
import type { PlanGainSpread } from './planGainSpread.ts';
import { swapOffers } from './swapOffers.ts';
import type { SwapOffer } from './swapOffers.ts';
import { inOneGo, mapInSteps, runToCompletion } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { gainForecast } from './levelDynamics.ts';

/** The input of a ranking and the requirements for the coming days. */
export interface PlanInput extends RankInput {
  /** Minutes free for practice on each day from `asOfDay` on, rests included; 0 on days off. */
  readonly minutes: readonly number[];
  /** Minutes of rest that the first day needs before its practice continues, in addition to `minutes`; 0 if omitted. */
  readonly restBefore?: number;
  /**
   * Where each technique stands on the first morning, by id, in place of what its logs say: for tests of the planner
   * alone. One without an entry is not begun.
   */
  readonly standings?: ReadonlyMap<string, { readonly kind: StandingKind }>;
  /** Techniques that stay in the set. */
  readonly pin?: readonly string[];
  /** Number of plans that the search evaluates; 600 if omitted. */
  readonly evaluations?: number;
  /** Number of rounds in which the bound is lowered; 120 if omitted. With 0 the gap is not known. */
  readonly boundRounds?: number;
}

export interface PlanBlock {
  readonly technique: string;
  /** Minutes of practice, and minutes of rest after it. */
  readonly minutes: number;
  readonly rest: number;
}

export interface PlanDay {
  /** Day number. */
  readonly day: number;
  readonly blocks: readonly PlanBlock[];
  /** Techniques in the set that day. */
  readonly set: readonly string[];
  /** Free minutes that the day's blocks and rests do not use; null if there are none. */
  readonly unused: UnusedMinutes | null;
}

/** A technique that is expected to be competent on the morning of `day`, and leaves the set. */
export interface PlanChange {
  readonly day: number;
  readonly technique: string;
  /** The technique that takes its place; null if the set had more members than places. */
  readonly replacedBy: string | null;
}

/** Expected gain on a morning compared with no practice, in seconds of V, with 10 % and 90 % quantiles. */
export interface PlanGain {
  readonly day: number;
  readonly gain: number;
  readonly low: number;
  readonly high: number;
}

/**
 * How good the plan is. `value` is its mean expected gain over the mornings of the horizon, in seconds; no plan
 * that follows the rules has more than `bound`. The two are equal if every such plan was evaluated.
 */
export interface OptimalityGap {
  readonly method: 'exhaustive' | 'price bound' | 'not bounded';
  readonly value: number;
  readonly bound: number | null;
}

export interface Plan {
  readonly asOfDay: number;
  /** Where each technique stands, in order of id. */
  readonly standings: readonly Standing[];
  /** The practice set of the first session. */
  readonly set: readonly string[];
  readonly days: readonly PlanDay[];
  readonly changes: readonly PlanChange[];
  /** Swaps that the runner may want to make; the plan makes none. */
  readonly swaps: readonly SwapOffer[];
  readonly forecast: readonly PlanGain[];
  /** Gain on the last morning if all minutes of a technique in a week were practised on a single day of that week. */
  readonly oneSession: { readonly gain: number };
  readonly gap: OptimalityGap;
  /** Techniques that are pinned or in the set but are not planned, with the reason from the ranking. */
  readonly notPlanned: readonly { readonly technique: string; readonly reason: string }[];
}

/** Longest horizon, days: a year. */
const maxHorizonDays = 371;
/** Largest number of days that an exhaustive search may compute. */
const exhaustiveDayLimit = 4000;

/** A plan whose optimality gap is computed only on request, because that takes longer than the plan itself. */
export interface PlanWithDeferredGap {
  /** The plan. The bound of its gap is not known yet, unless every plan was evaluated. */
  readonly plan: Plan;
  /** Computes the gap in short steps. Between two steps the caller can do other work or stop. */
  readonly gapSteps: (rounds?: number) => Generator<undefined, OptimalityGap>;
}

/**
 * Plans the days of `input.minutes`. The same input gives the same plan: the search stops after a fixed number of
 * plans. Future runs are not included: neither the practice they give nor that they prevent forgetting.
 */
export function planWeek(input: PlanInput, cache?: ModelCache): Plan {
  const { plan, gapSteps: gapInSteps } = planWeekDeferringGap(input, cache);
  return { ...plan, gap: runToCompletion(gapInSteps(input.boundRounds)) };
}

/** Like {@link planWeek}, but the gap is computed later. */
export const planWeekDeferringGap = inOneGo(planWeekDeferringGapInSteps);

/** The same in steps. */
export function* planWeekDeferringGapInSteps(
  input: PlanInput,
  cache?: ModelCache,
): Steps<PlanWithDeferredGap> {
  const minutes = input.minutes.slice(0, maxHorizonDays).map((m) => clamp(finiteOr(m, 0), 0, minutesPerDay));
  const block = clampBlockMinutes(input.options.blockMinutes);
  const pinned = new Set(input.pin);
  const rankInput: RankInput = { ...input, options: { ...input.options, all: true } };
  const order = yield* orderCandidatesInSteps(rankInput, cache);
  const standings = input.standings ?? order.standings;
  const context = {
    pinned,
    standings,
    idle: daysSincePractice(input.logs.practice, input.asOfDay),
    days: minutes.length,
  };
  const items = yield* planItemsInSteps(rankInput, order, context);
  const problem: PlanProblem = {
    items,
    minutes,
    blockMinutes: block,
    constants: order.prepared.constants,
  };
  const simulator = createPlanSimulator(problem);
  const staying = {
    pinned: items.filter((item) => item.pinned).length,
    currentMembers: items.filter((item) => item.inSetAtStart).length,
  };
  const sizes = possibleSetSizes(minutes, block, staying);
  const { schedule, gap } = yield* bestPlanInSteps(problem, simulator, sizes, { ...input, boundRounds: 0 });
  const dated = datedSchedule(problem, schedule, input);
  const plan: Plan = {
    asOfDay: input.asOfDay,
    standings: [...order.standings.values()],
    ...dated,
    swaps: swapOffers(order, new Set(dated.set), pinned),
    ...(yield* forecastGains(problem, simulator, schedule, order, input.asOfDay)),
    gap,
    notPlanned: unplannedTechniques(
      order,
      items.map(({ id }) => id),
      [...new Set([...pinned, ...standings.keys()])].filter(
        (id) => pinned.has(id) || isMemberAtStart(context, id),
      ),
      input.options.leaveOut ?? [],
    ),
  };
  return { plan, gapSteps: (rounds) => optimalityGapSteps(problem, simulator, sizes, schedule, gap, rounds) };
}

/** Number of rounds in which the bound is lowered by default. */
const defaultBoundRounds = 120;

/** Computes in short steps how far a plan can be from the best possible plan. `gap` is the gap as known so far. */
function* optimalityGapSteps(
  problem: PlanProblem,
  simulator: PlanSimulator,
  sizes: readonly number[],
  schedule: Schedule,
  gap: OptimalityGap,
  rounds = defaultBoundRounds,
): Generator<undefined, OptimalityGap> {
  if (gap.method === 'exhaustive' || rounds <= 0) return gap;
  // Starts with the set size of the plan: its bound is usually the highest, and then the other sizes need few
  // rounds.
  const sizesInOrder = [schedule.size, ...sizes.filter((size) => size !== schedule.size)];
  const bound = yield* upperBoundSteps(problem, simulator, sizesInOrder, schedule.area, rounds);
  return { method: 'price bound', value: gap.value, bound: bound / Math.max(1, problem.minutes.length) };
}

export interface FoundPlan {
  readonly schedule: Schedule;
  readonly gap: OptimalityGap;
}

/** The best plan found, and how far it can be from the best possible plan. */
export const bestPlan = inOneGo(bestPlanInSteps);

/** The same in steps. */
export function* bestPlanInSteps(
  problem: PlanProblem,
  simulator: PlanSimulator,
  sizes: readonly number[],
  { evaluations = 600, boundRounds = defaultBoundRounds }: Pick<PlanInput, 'evaluations' | 'boundRounds'>,
): Steps<FoundPlan> {
  const mornings = Math.max(1, problem.minutes.length);
  const few = sizes.length > 0 ? exhaustiveSearch(problem, simulator, sizes, exhaustiveDayLimit) : null;
  if (few !== null) {
    const value = few.schedule.area / mornings;
    return { schedule: few.schedule, gap: { method: 'exhaustive', value, bound: value } };
  }
  const found = yield* localSearchInSteps(problem, simulator, sizes, evaluations);
  const schedule = simulator.plan(found.order, found.size, found.ties);
  const gap: OptimalityGap = { method: 'not bounded', value: schedule.area / mornings, bound: null };
  return {
    schedule,
    gap: yield* optimalityGapSteps(problem, simulator, sizes, schedule, gap, boundRounds),
  };
}

function datedSchedule(
  problem: PlanProblem,
  { days }: Schedule,
  { asOfDay, restBefore = 0 }: PlanInput,
): Pick<Plan, 'set' | 'days' | 'changes'> {
  const { items, minutes } = problem;
  const id = (item: number): string => items[item]!.id;
  const first = days.find(({ blocks }) => blocks.length > 0);
  return {
    set: (first?.members ?? []).map(id),
    days: days.map(({ members, blocks, length }, d): PlanDay => {
      const shape = { blocks: blocks.length, length };
      const rests = restsAfterBlocks(shape);
      const rooms = members.map((i) => minutesAvailable(problem, i, d));
      return {
        day: asOfDay + d,
        set: members.map(id),
        blocks: blocks.map((item, b) => ({ technique: id(item), minutes: length, rest: rests[b]! })),
        unused: unusedMinutes(minutes[d]!, d === 0 ? restBefore : 0, shape, rooms),
      };
    }),
    changes: days.flatMap(({ left }, d): PlanChange[] =>
      left.map(({ item, replacedBy }) => ({
        day: asOfDay + d,
        technique: id(item),
        replacedBy: replacedBy === null ? null : id(replacedBy),
      })),
    ),
  };
}

/** Mornings for which the spread is computed; between them it is interpolated linearly. */
function spreadSampleDays(days: number): number[] {
  const wanted = [1, 3, 7];
  for (let d = 14; d < days; d += 7) wanted.push(d);
  return [...new Set([...wanted.filter((d) => d < days), days])];
}

function* forecastGains(
  problem: PlanProblem,
  simulator: PlanSimulator,
  schedule: Schedule,
  order: RankingOrder,
  asOfDay: number,
): Steps<Pick<Plan, 'forecast' | 'oneSession'>> {
  const { items } = problem;
  const days = schedule.days.length;
  const counts = blockCounts(problem, schedule);
  const practisedMinutes = counts.map((row) =>
    Float64Array.from(row, (n, d) => n * schedule.days[d]!.length),
  );
  const practised = [...items.keys()].filter((i) => practisedMinutes[i]!.some((m) => m > 0));
  const forecasts = new Map(
    yield* mapInSteps(
      practised,
      (i) => [i, gainForecast(problem, simulator.dynamics, i, practisedMinutes[i]!)] as const,
    ),
  );
  const idle = new Map(
    yield* mapInSteps(
      practised,
      (i) => [i, gainForecast(problem, simulator.dynamics, i, []).levels] as const,
    ),
  );
  const worth = new Map(order.ranked.map(({ candidate }) => [candidate.id, candidate.worth]));
  const totals = Array.from({ length: days }, (_, d) =>
    practised.reduce((sum, i) => sum + forecasts.get(i)!.gains[d]!, 0),
  );

  const mornings = spreadSampleDays(days);
  const spreads = yield* mapInSteps(mornings, (morning): PlanGainSpread =>
    planGainSpread(
      order.prepared,
      practised.flatMap((i) => {
        const valued = worth.get(items[i]!.id);
        if (valued === undefined || valued.breakEven === null) return [];
        const level = forecasts.get(i)!.levels[morning - 1]!;
        const without = idle.get(i)![morning - 1]!;
        return level > without ? [{ id: items[i]!.id, saved: valued.saved, level, idle: without }] : [];
      }),
      morning,
    ),
  );
  const between = (morning: number): PlanGainSpread => {
    const after = Math.max(
      0,
      mornings.findIndex((m) => m >= morning),
    );
    const before = Math.max(0, after - 1);
    const [a, b] = [spreads[before]!, spreads[after]!];
    const span = mornings[after]! - mornings[before]!;
    const t = span > 0 ? (morning - mornings[before]!) / span : 1;
    return { low: a.low + t * (b.low - a.low), high: a.high + t * (b.high - a.high) };
  };
  return {
    forecast: totals.map((gain, d): PlanGain => {
      const { low, high } = between(d + 1);
      return { day: asOfDay + d + 1, gain, low: gain * low, high: gain * high };
    }),
    oneSession: {
      gain: practised.reduce(
        (sum, i) => sum + oneSessionGain(problem, simulator, i, practisedMinutes[i]!),
        0,
      ),
    },
  };
}

/**
 * Gain on the last morning if all minutes of each week are practised on the day of that week with the most free
 * minutes.
 */
function oneSessionGain(
  problem: PlanProblem,
  simulator: PlanSimulator,
  item: number,
  practisedMinutes: Float64Array,
): number {
  const days = practisedMinutes.length;
  const packed = new Float64Array(days);
  for (let from = 0; from < days; from += 7) {
    const week = [...problem.minutes.keys()].slice(from, from + 7);
    const day = week.reduce((best, d) => (problem.minutes[d]! > problem.minutes[best]! ? d : best), from);
    packed[day] = week.reduce((sum, d) => sum + practisedMinutes[d]!, 0);
  }
  return gainForecast(problem, simulator.dynamics, item, packed).gains.at(-1) ?? 0;
}

function unplannedTechniques(
  { skipped, prepared }: RankingOrder,
  planned: readonly string[],
  wanted: readonly string[],
  leaveOut: readonly string[],
) {
  const inPlan = new Set(planned);
  const reasons = new Map(skipped.map(({ technique, reason }) => [technique, reason]));
  return [...new Set(wanted)]
    .filter((id) => !inPlan.has(id) && !leaveOut.includes(id) && prepared.fittedTechniques.has(id))
    .map((technique) => ({ technique, reason: reasons.get(technique) ?? 'What it needs is not ready yet.' }));
}
