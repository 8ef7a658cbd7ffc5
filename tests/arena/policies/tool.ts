/** A runner who follows the ranking, with the rule by which the practice set carries over. */
import { chanceCompetentNow, orderCandidates } from '../../../server/src/model/rank/rankingOrder.ts';
import { ModelCache } from '../../../server/src/model/index.ts';
import type { Constants, RankInput } from '../../../server/src/model/index.ts';
import { meanPracticeRate } from '../../../server/src/model/skill/rateEstimates.ts';
import { leavingShare, choosePracticeSet } from '../../../server/src/model/rank/practiceSet.ts';
import type { SetCandidate } from '../../../server/src/model/rank/practiceSet.ts';
import { chance, seedOf } from '../random.ts';
import { firstDay, routeOf } from '../world.ts';
import type { World } from '../world.ts';
import { fill } from './policy.ts';
import type { MakePolicy, Policy, View } from './policy.ts';

const confidence = 0.8;
const readyRate = 0.5;

/** A coarser grid than the default: four times as fast, and the order hardly ever another. */
const coarse: Partial<Constants> = { midwayStep: 0.5, lossStep: 0.4 };

/** Days after which what was not practised no longer counts as part of the set. */
const carriesFor = 7;

type Reorder = (rows: readonly SetCandidate[], day: number) => readonly SetCandidate[];

function follow(world: World, reorder: Reorder): Policy {
  const cache = new ModelCache();
  const numbers = new Map(world.skills.map((skill, i) => [skill.id, i]));
  let members: readonly string[] = [];
  const choose = (view: View): number[] => {
    const tally = (id: string) => view.tallies[numbers.get(id)!]!;
    const input: RankInput = {
      route: routeOf(
        world,
        (i) => view.tallies[i]!.inRun,
        (i) => view.tallies[i]!.blocks.length > 0,
      ),
      logs: view.logs,
      asOfDay: firstDay + view.day,
      options: { blockMinutes: world.blockMinutes, confidence, all: true },
      constants: coarse,
    };
    const { ranked: placed, prepared } = orderCandidates(input, cache);
    const ready = (need: number): boolean => {
      const { id } = world.skills[need]!;
      if (tally(id).inRun) return true;
      const subject = prepared.fittedTechniques.get(id)!;
      return meanPracticeRate(subject.posterior, subject.logitsNow) >= readyRate;
    };
    const open = (id: string): boolean => world.skills[numbers.get(id)!]!.needs.every(ready);
    const standings = placed.map(({ candidate, setGainPerHour: setRate }) => ({
      technique: candidate.id,
      rate: setRate,
      competent: chanceCompetentNow(candidate) >= confidence,
      open: open(candidate.id),
    }));
    const chosen = choosePracticeSet({
      candidates: reorder(standings, view.day),
      currentMembers: members.filter((id) => view.day - tally(id).lastDay <= carriesFor),
      size: view.blocks,
      leavingShare,
    });
    members = chosen.members;
    return fill(
      world,
      members.map((id) => numbers.get(id)!),
      view.blocks,
    );
  };
  return { choose };
}

export const tool: MakePolicy = (world) => follow(world, (rows) => rows);

/** Gives the rates of `from`, place by place, to the techniques of `to`. */
function swapRates(to: readonly SetCandidate[], from: readonly SetCandidate[]): SetCandidate[] {
  return to.map((row, i) => ({ ...row, rate: from[i]!.rate }));
}

/** The tool with its ranking turned upside down: a planted fault that the arena must notice. */
export const reversedTool: MakePolicy = (world) =>
  follow(world, (rows) => swapRates([...rows].reverse(), rows));

/** The tool with its ranking shuffled anew each session: a planted fault that the arena must notice. */
export const shuffledTool: MakePolicy = (world, seed) =>
  follow(world, (rows, day) => {
    const random = chance(seedOf(seed, 78, day));
    const mixed = rows.map((row) => ({ row, by: random.next() })).sort((a, b) => a.by - b.by);
    return swapRates(
      mixed.map(({ row }) => row),
      rows,
    );
  });
