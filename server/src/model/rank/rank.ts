/**
 * Ranks techniques by what to practise next: the greatest expected gain per hour of practice, with the practice of
 * needs included.
 */
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { LogBins } from './gainDistribution.ts';
import type { QuadratureNodes } from '../skill/quadratureNodes.ts';
import {
  chancesOfMaximum,
  gainDistributionGivenRunner,
  gainDistribution,
  logBins,
} from './gainDistribution.ts';
import { quadratureNodes } from '../skill/quadratureNodes.ts';
import { blocksToExceed, clampBlockMinutes } from '../skill/forecast.ts';
import { clamp, logit } from '../core/numbers.ts';
import { chanceRunRateAbove, practiceEstimate, practiceLogits, runEstimate } from '../skill/rateEstimates.ts';
import { orderCandidatesInSteps } from './rankingOrder.ts';
import type { RankedCandidate } from './rankingOrder.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { PreparedModel, RankInput } from '../run/preparedModel.ts';
import { resetWeightOf } from './resetPreference.ts';
import { rankingReason } from './rankingReason.ts';
import { marginalWeights } from '../skill/runnerPosterior.ts';
import { runnerSummary } from '../run/runnerSummary.ts';
import type { RunnerPosterior } from '../skill/runnerPosterior.ts';
import type { RateTable } from '../core/rateTable.ts';
import type { RankRow, Ranking } from '../core/results.ts';

/** Number of bins per power of ten of the gain per hour, for computing the chance to be the best. */
const binsPerDecade = 16;

/** The 80 % range of the gain per hour of one ranked technique, and its distribution given the runner. */
interface GainSpread {
  readonly low: number;
  readonly high: number;
  /** The distribution over the bins at each node (offset, pressure) of the runner; null if there is nothing to gain. */
  readonly given: Float64Array | null;
}

function gainSpread(
  { candidate, blocks }: RankedCandidate,
  runner: RunnerPosterior,
  nodes: QuadratureNodes,
  hours: number,
  bins: LogBins,
): GainSpread {
  const { subject, worth } = candidate;
  if (worth.breakEven === null) return { low: 0, high: 0, given: null };
  const { posterior, technique, memory } = subject;
  const { rowGains, low, high } = gainDistribution({ candidate, blocks });
  const on = [
    rowGains,
    posterior,
    hours,
    runner.runnerGrid,
    ...nodes.rows,
    ...nodes.columns,
    bins.top,
    bins.perDecade,
  ];
  const given = memory.getOrCompute('gain rows given the runner', on, () =>
    gainDistributionGivenRunner(posterior, technique, rowGains, hours, runner, nodes, bins),
  );
  return { low: low / hours, high: high / hours, given };
}

/** For each ranked technique, the range of its gain per hour and the chance to be the best. */
function* gainSpreads(
  rankedCandidates: readonly RankedCandidate[],
  prepared: PreparedModel,
  blockHours: number,
): Steps<{ low: number; high: number; chanceBest: number }[]> {
  const { runner } = prepared;
  const nodes = quadratureNodes(marginalWeights(runner, 'offset'), marginalWeights(runner, 'pressure'));
  const top = rankedCandidates.reduce((most, { candidate, blocks }) => {
    const greatest = candidate.worth.saved.values.reduce((a, b) => Math.max(a, b), 0);
    return Math.max(most, greatest / (blocks * blockHours));
  }, 0);
  const bins = logBins(top, binsPerDecade);
  const each = yield* mapInSteps(rankedCandidates, (entry) =>
    gainSpread(entry, runner, nodes, entry.blocks * blockHours, bins),
  );
  const counted = [...each.keys()].filter((i) => each[i]!.given !== null);
  const given = each.flatMap((spread) => spread.given ?? []);
  const best = new Float64Array(rankedCandidates.length);
  let total = 0;
  for (const [r, row] of nodes.rows.entries()) {
    for (const [c, column] of nodes.columns.entries()) {
      const weight = runner.weights[row * runner.pressures.length + column]!;
      total += weight;
      const from = (r * nodes.columns.length + c) * bins.count;
      const chances = chancesOfMaximum(given, from, bins.count);
      chances.forEach((chance, n) => {
        best[counted[n]!]! += weight * chance;
      });
      yield;
    }
  }
  return each.map(({ low, high }, i) => ({ low, high, chanceBest: total > 0 ? best[i]! / total : 0 }));
}

/** The landing rates of a ranked technique now and after its blocks, and the hours until it is competent. */
export function landingRates({ candidate, blocks }: RankedCandidate, rates: RateTable, blockHours: number) {
  const { subject, levels, worth } = candidate;
  const { posterior, logitsNow, memory } = subject;
  const edge = worth.breakEven === null ? null : logit(worth.breakEven);
  return memory.getOrCompute(
    'landing',
    [posterior, logitsNow, levels, blocks, edge, rates, blockHours],
    () => {
      const then = practiceLogits(posterior, levels.practised[blocks]!);
      const toCompetent =
        edge === null ? [null, null, null] : blocksToExceed(posterior, levels, edge, [0.1, 0.5, 0.9]);
      const [p10, p50, p90] = toCompetent.map((n) => (n === null ? null : n * blockHours));
      return {
        practiceNow: practiceEstimate(posterior, logitsNow),
        runNow: runEstimate(posterior, logitsNow, rates),
        runThen: runEstimate(posterior, then, rates),
        hoursToCompetent: { p10: p10 ?? null, p50: p50 ?? null, p90: p90 ?? null },
        chanceCompetent: edge === null ? 0 : chanceRunRateAbove(posterior, then, edge),
      };
    },
  );
}

/**
 * Ranks the techniques of a route, best first.
 *
 * Rows are ordered by the gain per hour of the set each is practised in (its needs, or the techniques that need it,
 * included); the numbers of a row are those of its technique alone. Techniques that cannot be ranked are listed
 * with the reason. The caller can keep `cache` and pass it again in later calls for the same route.
 */
export const rank = inOneGo(rankInSteps);

/** The same in steps. */
export function* rankInSteps(input: RankInput, cache?: ModelCache): Steps<Ranking> {
  const {
    prepared,
    objective,
    target,
    candidates,
    ranked: rankedCandidates,
    skipped,
    standings,
  } = yield* orderCandidatesInSteps(input, cache);
  const blockMinutes = clampBlockMinutes(input.options.blockMinutes);
  const blockHours = blockMinutes / 60;
  const spread = yield* gainSpreads(rankedCandidates, prepared, blockHours);
  const confidence = clamp(input.options.confidence, 0, 1);
  const needsById = new Map(candidates.map((c) => [c.id, c.openNeeds]));

  const needsOf = (id: string): readonly string[] => needsById.get(id) ?? [];
  const rows = yield* mapInSteps(rankedCandidates, (entry, i): RankRow => {
    const { candidate, gains, blocks, othersInSet } = entry;
    const hours = blocks * blockHours;
    const gain = gains[blocks]!;
    const { others } = candidate.subject.technique;
    const row = {
      technique: candidate.id,
      gainPerHour: gain / hours,
      low: spread[i]!.low,
      high: spread[i]!.high,
      blocks,
      blockMinutes,
      hours,
      gain,
      breakEven: candidate.worth.breakEven,
      ...landingRates(entry, prepared.rates, blockHours),
      chanceBest: spread[i]!.chanceBest,
      opensWith: othersInSet,
      openNeeds: candidate.openNeeds,
      package: entry.package && {
        gainPerHour: entry.setGainPerHour,
        hours: entry.package.blocks * blockHours,
        ...entry.package,
      },
      resetWeight: candidate.worth.breakEven === null ? null : resetWeightOf(input, candidate.id),
      ...(others !== undefined && { otherRunners: others.runners }),
    };
    return { ...row, reason: rankingReason(entry, row, needsOf, confidence, objective.gain) };
  });
  return {
    objective: objective.id,
    rows,
    skipped,
    standings: [...standings.values()],
    target,
    runner: runnerSummary(prepared),
  };
}
