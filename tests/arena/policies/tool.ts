/** A runner who follows the ranking, with the rule by which the practice set carries over. */
import { orderCandidates } from '../../../server/src/model/rank/rankingOrder.ts';
import type { RankingOrder } from '../../../server/src/model/rank/rankingOrder.ts';
import { ModelCache } from '../../../server/src/model/index.ts';
import type { Constants, RankInput } from '../../../server/src/model/index.ts';
import { logit } from '../../../server/src/model/core/numbers.ts';
import type { Candidate } from '../../../server/src/model/rank/candidates.ts';
import { chanceRunRateAbove } from '../../../server/src/model/skill/rateEstimates.ts';
import { chance, seedOf } from '../random.ts';
import { firstDay, routeOf } from '../world.ts';
import type { World } from '../world.ts';
import { byGain } from './byGain.ts';
import type { HandOut } from './byGain.ts';
import { fill, longestWaitingFirst } from './policy.ts';
import type { MakePolicy, Policy, View } from './policy.ts';
import { swapRule } from '../../../server/src/model/week/swapOffers.ts';
import type { SwapRule } from '../../../server/src/model/week/swapOffers.ts';
import { createProductRule } from './productRule.ts';
import type { AskingSetRule, SetRow, SetRule } from './setRule.ts';

const confidence = 0.8;

/** A coarser grid than the default: four times as fast, and the order hardly ever another. */
const coarse: Partial<Constants> = { midwayStep: 0.5, lossStep: 0.4 };

type Reorder = (rows: readonly SetRow[], day: number) => readonly SetRow[];

const asRanked: Reorder = (rows) => rows;

/** The ranking of a morning. */
interface Ranking {
  readonly input: RankInput;
  readonly order: RankingOrder;
  readonly rows: readonly SetRow[];
}

/**
 * Rankings by the logs they were made from, of each world. Set rules whose runners practised alike so far are given the same
 * ranking, which is most of the work.
 */
const rankings = new WeakMap<World, Map<string, Ranking>>();

/** The ranking of a morning; the same logs on the same day of one world give the same object. */
export function rankingOf(world: World, view: View, cache: ModelCache): Ranking {
  const known = rankings.get(world) ?? new Map<string, Ranking>();
  rankings.set(world, known);
  // Whether a technique is tried in runs follows from the logs.
  const key = JSON.stringify([view.day, view.logs]);
  const ranking = known.get(key) ?? rank(world, view, cache);
  known.set(key, ranking);
  return ranking;
}

/** Chance that a candidate's landing rate in a run is above break-even now. */
function chanceCompetentNow({ subject, worth }: Candidate): number {
  if (worth.breakEven === null) return 0;
  return chanceRunRateAbove(subject.posterior, subject.logitsNow, logit(worth.breakEven));
}

function rank(world: World, view: View, cache: ModelCache): Ranking {
  const { practice, runs } = view.logs;
  const input: RankInput = {
    route: routeOf(
      world,
      (i) => view.tallies[i]!.inRun,
      (i) => view.tallies[i]!.blocks.length > 0,
    ),
    logs: { practice: [...practice], runs: [...runs] },
    asOfDay: firstDay + view.day,
    options: { blockMinutes: world.blockMinutes, confidence, all: true },
    constants: coarse,
  };
  const order = orderCandidates(input, cache);
  const { ranked, standings } = order;
  const rows = ranked.map(({ candidate, setGainPerHour: rate }): SetRow => ({
    technique: candidate.id,
    rate,
    competent: chanceCompetentNow(candidate) >= confidence,
    standing: standings.get(candidate.id)!.kind,
    // What comes back was in the run: its needs no longer matter, as those of what is in the run.
    open: standings.get(candidate.id)!.kind === 'again' || candidate.openNeeds.length === 0,
  }));
  return { input, order, rows };
}

/** One block for each member and then further rounds; on a short day those that have waited longest have one. */
const inRounds: HandOut = ({ world, view, present }) => {
  const short = present.length > view.blocks;
  return fill(world, short ? longestWaitingFirst(present, view.tallies) : present, view.blocks);
};

function follow(
  world: World,
  { choose: rule, asked }: AskingSetRule,
  reorder: Reorder,
  handOut: HandOut = inRounds,
): Policy {
  const cache = new ModelCache();
  const numbers = new Map(world.skills.map((skill, i) => [skill.id, i]));
  let members: readonly string[] = [];
  let learned: ReadonlySet<string> = new Set();
  const choose = (view: View): number[] => {
    const { input, order, rows } = rankingOf(world, view, cache);
    const idsOf = (which: (row: SetRow) => boolean): Set<string> =>
      new Set(rows.filter(which).map(({ technique }) => technique));
    learned = idsOf((row) => row.competent || row.standing === 'in-run');
    members = rule({
      rows: reorder(rows, view.day),
      members,
      places: view.blocks,
      input,
      order,
      lastPractised: (id) => firstDay + view.tallies[numbers.get(id)!]!.lastDay,
    });
    const open = idsOf((row) => row.open);
    const present = members.filter((id) => open.has(id)).map((id) => numbers.get(id)!);
    return handOut({ world, view, input, order, present });
  };
  return {
    choose,
    learned: (skill) => learned.has(world.skills[skill]!.id) || asked(world.skills[skill]!.id),
  };
}

/** The tool, by a runner who makes the swaps that it offers. */
export const tool: MakePolicy = (world) => follow(world, createProductRule(swapRule), asRanked);

/**
 * The tool, but each block of a session goes to what gains most at that moment.
 *
 * @param sessions most sessions in a row in which a technique begun has no block
 */
export function toolByGain(sessions: number): MakePolicy {
  return (world) => follow(world, createProductRule(swapRule), asRanked, byGain(sessions));
}

/** The tool, by a runner who makes none of them. */
export const toolWithoutSwaps: MakePolicy = (world) => follow(world, createProductRule(null), asRanked);

/** The tool, by a runner who makes the swaps that another rule offers. */
export function toolWithSwaps(rule: SwapRule): MakePolicy {
  return (world) => follow(world, createProductRule(rule), asRanked);
}

const nobodyAsks = (): boolean => false;

/** The same ranking, with another rule for who stays in the set. */
export function withSetRule(rule: SetRule): MakePolicy {
  return (world) => follow(world, { choose: rule, asked: nobodyAsks }, asRanked);
}

/** Gives the rates of `from`, place by place, to the techniques of `to`. */
function swapRates(to: readonly SetRow[], from: readonly SetRow[]): SetRow[] {
  return to.map((row, i) => ({ ...row, rate: from[i]!.rate }));
}

/** The tool with its ranking turned upside down: a planted fault that the arena must notice. */
export const reversedTool: MakePolicy = (world) =>
  follow(world, createProductRule(swapRule), (rows) => swapRates([...rows].reverse(), rows));

/** The tool with its ranking shuffled anew each session: a planted fault that the arena must notice. */
export const shuffledTool: MakePolicy = (world, seed) =>
  follow(world, createProductRule(swapRule), (rows, day) => {
    const random = chance(seedOf(seed, 78, day));
    const mixed = rows.map((row) => ({ row, by: random.next() })).sort((a, b) => a.by - b.by);
    return swapRates(
      mixed.map(({ row }) => row),
      rows,
    );
  });
