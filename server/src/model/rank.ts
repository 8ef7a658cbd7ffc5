/** Which technique to practise next: the most expected seconds gained per hour of practice, needs counted. */
import { chooseCandidates } from './candidates.ts';
import type { Candidate } from './candidates.ts';
import { closedSets } from './closure.ts';
import type { ClosedSet } from './closure.ts';
import { chancesGreatest, dropRange, dropRows, dropsGivenRunner, heavyNodes, logBins } from './drops.ts';
import { blocksToExceed, gainCurve, plannedMinutes } from './forecast.ts';
import { byText, clamp, logit } from './numbers.ts';
import { chanceAbove, practiceEstimate, practiceLogits, runEstimate } from './estimates.ts';
import { prepare } from './prepare.ts';
import type { Prepared, RankCache, RankInput } from './prepare.ts';
import { reasonFor } from './reason.ts';
import { marginal, runnerEstimate } from './runner.ts';
import type { RankRow, Ranking } from './types.ts';

/** A candidate with its place in the order and the blocks chosen for it. */
interface Placed {
  readonly candidate: Candidate;
  readonly gains: Float64Array;
  readonly blocks: number;
  readonly setRate: number;
  readonly company: readonly string[];
}

/** Bins a decade of gain per hour, for the chance to be the best. */
const binsPerDecade = 16;

/** Members of a set with needs before what needs them, and the better rate first among the free ones. */
function withinSet(
  set: ClosedSet,
  candidates: readonly Candidate[],
  rateOf: (item: number) => number,
): number[] {
  const waiting = set.members.map((m) => m.item);
  const order: number[] = [];
  while (waiting.length > 0) {
    const free = waiting.filter((item) =>
      waiting.every((other) => !candidates[item]!.openNeeds.includes(candidates[other]!.id)),
    );
    free.sort((a, b) => rateOf(b) - rateOf(a) || byText(candidates[a]!.id, candidates[b]!.id));
    const next = free[0] ?? waiting[0]!;
    order.push(next);
    waiting.splice(waiting.indexOf(next), 1);
  }
  return order;
}

/** The blocks with the best gain per hour for a technique that no set took up. */
function loneStop(gains: Float64Array): number {
  let best = 1;
  for (let n = 2; n < gains.length; n++) if (gains[n]! / n > gains[best]! / best) best = n;
  return best;
}

function placeAll(
  candidates: readonly Candidate[],
  curves: readonly Float64Array[],
  blockHours: number,
): Placed[] {
  const numbers = new Map(candidates.map((c, i) => [c.id, i]));
  const items = candidates.map((candidate, i) => ({
    gains: curves[i]!,
    needs: candidate.openNeeds.flatMap((need) => numbers.get(need) ?? []),
    readyAt: candidate.readyAt,
  }));
  const placed: Placed[] = [];
  const seen = new Set<number>();
  for (const set of closedSets(items, blockHours)) {
    const blocks = new Map(set.members.map((m) => [m.item, m.blocks]));
    const rateOf = (item: number): number => curves[item]![blocks.get(item)!]! / blocks.get(item)!;
    for (const item of withinSet(set, candidates, rateOf)) {
      seen.add(item);
      placed.push({
        candidate: candidates[item]!,
        gains: curves[item]!,
        blocks: blocks.get(item)!,
        setRate: set.rate,
        company: set.members.filter((m) => m.item !== item).map((m) => candidates[m.item]!.id),
      });
    }
  }
  candidates.forEach((candidate, i) => {
    if (seen.has(i)) return;
    const blocks = loneStop(curves[i]!);
    placed.push({ candidate, gains: curves[i]!, blocks, setRate: 0, company: [] });
  });
  return placed;
}

/** For each placed technique, the spread of gain per hour and the chance to be the best. */
function spreads(placed: readonly Placed[], prepared: Prepared, blockHours: number) {
  const { runner } = prepared;
  const nodes = heavyNodes(marginal(runner, 'offset'), marginal(runner, 'pressure'));
  const top = placed.reduce((most, { candidate, blocks }) => {
    const greatest = candidate.worth.saved.values.reduce((a, b) => Math.max(a, b), 0);
    return Math.max(most, greatest / (blocks * blockHours));
  }, 0);
  const bins = logBins(top, binsPerDecade);
  const ranges: { low: number; high: number }[] = [];
  const given: Float64Array[] = [];
  const counted: number[] = [];
  placed.forEach(({ candidate, blocks }, i) => {
    const { subject, levels, worth } = candidate;
    if (worth.breakEven === null) {
      ranges.push({ low: 0, high: 0 });
      return;
    }
    const { posterior, technique } = subject;
    const idle = practiceLogits(posterior, levels.idle[blocks]!);
    const practised = practiceLogits(posterior, levels.practised[blocks]!);
    const drops = dropRows(posterior, idle, practised, worth.saved);
    const hours = blocks * blockHours;
    const { low, high } = dropRange(posterior, drops);
    ranges.push({ low: low / hours, high: high / hours });
    counted.push(i);
    given.push(dropsGivenRunner(posterior, technique.difficulty, drops, hours, runner, nodes, bins));
  });
  const best = new Float64Array(placed.length);
  let total = 0;
  nodes.rows.forEach((row, r) => {
    nodes.columns.forEach((column, c) => {
      const weight = runner.weights[row * runner.pressures.length + column]!;
      total += weight;
      const from = (r * nodes.columns.length + c) * bins.count;
      const chances = chancesGreatest(given, from, bins.count);
      chances.forEach((chance, n) => {
        best[counted[n]!]! += weight * chance;
      });
    });
  });
  return ranges.map((range, i) => ({ ...range, chanceBest: total > 0 ? best[i]! / total : 0 }));
}

/**
 * Ranks the techniques of a route, best first.
 *
 * Rows are ordered by the gain per hour of the set each is practised in (its needs, or what it opens, included);
 * the numbers of a row are those of its technique alone. Techniques that cannot be ranked are listed with the
 * reason. `cache`, where given, is kept by the caller from one ranking of a route to the next.
 */
export function rank(input: RankInput, cache?: RankCache): Ranking {
  const prepared = prepare(input, cache);
  const { candidates, skipped } = chooseCandidates(input, prepared);
  const blockMinutes = plannedMinutes(input.options.blockMinutes);
  const blockHours = blockMinutes / 60;
  const curves = candidates.map(({ subject, levels, worth }) =>
    worth.breakEven === null
      ? new Float64Array(levels.practised.length)
      : gainCurve(subject.posterior, levels, worth.saved),
  );
  const placed = placeAll(candidates, curves, blockHours);
  const spread = spreads(placed, prepared, blockHours);
  const confidence = clamp(input.options.confidence, 0, 1);
  const needsById = new Map(candidates.map((c) => [c.id, c.openNeeds]));

  const needsOf = (id: string): readonly string[] => needsById.get(id) ?? [];
  const rows = placed.map((entry, i): RankRow => {
    const { candidate, gains, blocks, setRate, company } = entry;
    const { subject, levels, worth, id } = candidate;
    const { posterior, logitsNow } = subject;
    const hours = blocks * blockHours;
    const gain = gains[blocks]!;
    const then = practiceLogits(posterior, levels.practised[blocks]!);
    const edge = worth.breakEven === null ? null : logit(worth.breakEven);
    const toCompetent =
      edge === null ? [null, null, null] : blocksToExceed(posterior, levels, edge, [0.1, 0.5, 0.9]);
    const [p10, p50, p90] = toCompetent.map((n) => (n === null ? null : n * blockHours));
    const row = {
      technique: id,
      gainPerHour: gain / hours,
      low: spread[i]!.low,
      high: spread[i]!.high,
      blocks,
      blockMinutes,
      hours,
      gain,
      breakEven: worth.breakEven,
      practiceNow: practiceEstimate(posterior, logitsNow),
      runNow: runEstimate(posterior, logitsNow, prepared.rates),
      runThen: runEstimate(posterior, then, prepared.rates),
      hoursToCompetent: { p10: p10 ?? null, p50: p50 ?? null, p90: p90 ?? null },
      chanceCompetent: edge === null ? 0 : chanceAbove(posterior, then, edge),
      chanceBest: spread[i]!.chanceBest,
      opensWith: company,
    };
    return { ...row, reason: reasonFor(candidate, row, setRate, needsOf, confidence) };
  });
  return {
    rows,
    skipped,
    runner: {
      offset: runnerEstimate(prepared.runner, 'offset'),
      pressure: runnerEstimate(prepared.runner, 'pressure'),
    },
  };
}
