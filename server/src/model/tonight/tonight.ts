/** Tonight: what to practise in the rest of a day, what changed since last time, what to leave out of runs. */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { ModelCache } from '../core/modelCache.ts';
import type { Standing } from '../core/standing.ts';
import { isGamble } from '../rank/gamble.ts';
import { TechniqueEstimator } from '../rank/techniqueEstimator.ts';
import type { RankInput } from '../run/preparedModel.ts';
import { standingsInSteps } from '../standing/standings.ts';
import { planWeekDeferringGapInSteps } from '../week/planWeek.ts';
import type { Plan, PlanBlock, PlanDay } from '../week/planWeek.ts';
import type { UnusedMinutes } from '../week/sessions.ts';
import type { SwapOffer } from '../week/swapOffers.ts';
import { changedStandings } from './changedStandings.ts';
import type { ChangedStanding } from './changedStandings.ts';
import { notForRuns } from './notForRuns.ts';
import { practisedOn } from './practisedOn.ts';
import type { PractisedTechnique } from './practisedOn.ts';
import type { TonightInput } from './tonightInput.ts';
import { whyNothing } from './whyNothing.ts';
import type { NothingToPractise } from './whyNothing.ts';

/** A block of today's plan, and why it is there. */
export interface TonightBlock extends PlanBlock {
  readonly standing: Standing;
  /** Expected gain per hour of practice, in seconds of V; null if the ranking does not have the technique. */
  readonly gainPerHour: number | null;
  /** Null if it is no gamble. */
  readonly gamble: Gamble | null;
}

/** Practice that is more likely than not to stay below break-even. */
export interface Gamble {
  /** Chance that trying it pays after the practice that the ranking counts with, under one half. */
  readonly chance: number;
  /** Hours of that practice. */
  readonly hours: number;
}

export interface Tonight {
  /** Day number. */
  readonly day: number;
  /** In the order of practice. */
  readonly blocks: readonly TonightBlock[];
  /** What was practised today already. */
  readonly done: readonly PractisedTechnique[];
  /** Why there is no block; null if there is one. */
  readonly nothing: NothingToPractise | null;
  /** Techniques for which a try in a run costs time today: those that are tried first, then those being learned. */
  readonly notInRuns: readonly Standing[];
  /** Day number of the last day with entries before today; null if there is none. */
  readonly lastDay: number | null;
  /** Techniques that stand elsewhere than on the morning of {@link lastDay}, in order of id. */
  readonly changed: readonly ChangedStanding[];
  /** Free minutes of today that stay unused, and the rule that forbids their use; null if there are none. */
  readonly unused: UnusedMinutes | null;
  /** Swaps that the runner may want to make. */
  readonly swaps: readonly SwapOffer[];
  /** Where each technique stands, in order of id. */
  readonly standings: readonly Standing[];
}

/** The caches for today's input, which the plan and its blocks share, and for the input of the last time. */
export interface TonightCaches {
  readonly today: ModelCache;
  readonly lastTime: ModelCache;
}

/**
 * Tonight, from the plan's input. Entries of today count: the minutes in `input.plan` are those that remain, and what
 * was practised is in `done`.
 */
export const tonight = inOneGo(tonightInSteps);

/** The same in steps. */
export function* tonightInSteps(
  input: TonightInput,
  caches: TonightCaches = { today: new ModelCache(), lastTime: new ModelCache() },
): Steps<Tonight> {
  const { plan } = yield* planWeekDeferringGapInSteps(input.plan, caches.today);
  return yield* tonightOfInSteps(input, plan, caches);
}

/** Like {@link tonightInSteps}, for a plan that was made from `input.plan`. */
export function* tonightOfInSteps(input: TonightInput, plan: Plan, caches: TonightCaches): Steps<Tonight> {
  const { lastTime } = input;
  const day = plan.days[0];
  const now = new Map(plan.standings.map((standing) => [standing.technique, standing]));
  const { route, logs, asOfDay } = input.plan;
  const before = lastTime && (yield* standingsInSteps(lastTime, caches.lastTime));
  return {
    day: plan.asOfDay,
    blocks: day === undefined ? [] : yield* blocksOf(day, now, input.plan, caches.today),
    done: practisedOn(logs.practice, asOfDay),
    nothing: whyNothing(input, plan),
    notInRuns: notForRuns(plan.standings, route),
    lastDay: lastTime?.asOfDay ?? null,
    changed: before === null ? [] : changedStandings(before, now),
    unused: day?.unused ?? null,
    swaps: plan.swaps,
    standings: plan.standings,
  };
}

function* blocksOf(
  { blocks }: PlanDay,
  standing: ReadonlyMap<string, Standing>,
  input: RankInput,
  cache: ModelCache,
): Steps<TonightBlock[]> {
  if (blocks.length === 0) return [];
  const all = { ...input, options: { ...input.options, all: true } };
  const estimator = yield* TechniqueEstimator.inSteps(all, cache);
  const shown: TonightBlock[] = [];
  for (const block of blocks) {
    const stands = standing.get(block.technique);
    if (stands === undefined) continue;
    const found = yield* estimator.gainsInSteps(block.technique);
    const gains = found !== undefined && 'gains' in found ? found.gains : null;
    shown.push({
      ...block,
      standing: stands,
      gainPerHour: gains?.gainPerHour ?? null,
      gamble:
        gains !== null && isGamble(gains) ? { chance: gains.chanceCompetent, hours: gains.hours } : null,
    });
  }
  return shown;
}
