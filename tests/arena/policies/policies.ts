/** The policies that are compared. */
import { trueIndex, trueRanking } from '../clairvoyant/reference.ts';
import {
  biggestSave,
  easiest,
  fiveInTurn,
  oneUntilDone,
  randomSet,
  savePerDifficulty,
  savePerHour,
} from './handRules.ts';
import { costliest, sameFour } from './lookingBack.ts';
import { planned, plannedWithoutSwaps } from './planned.ts';
import type { MakePolicy } from './policy.ts';
import { leavesBelow, leavesOnlyCompetent } from './setRule.ts';
import { tool, toolByGain, toolWithSwaps, toolWithoutSwaps, withSetRule } from './tool.ts';

/** By the title that stands in the table, without a comma: `--policies` takes several with commas between. */
export const policies: Readonly<Record<string, MakePolicy>> = {
  'this tool': tool,
  'this tool without its swaps': toolWithoutSwaps,
  'this tool: swaps from 5 days on': toolWithSwaps({ days: 5, minutes: 120, timesAsMuch: 2 }),
  'this tool: blocks by gain': toolByGain(Infinity),
  'this tool: blocks by gain and never two sessions without one': toolByGain(1),
  'this tool: blocks by gain and never three sessions without one': toolByGain(2),
  'this tool: its plan of each morning': planned,
  'this tool: its plan of each morning without its swaps': plannedWithoutSwaps,
  'biggest save first': biggestSave,
  'easiest first': easiest,
  'best save per difficulty': savePerDifficulty,
  'best save per hour by the scale': savePerHour,
  'the five biggest saves in turn': fiveInTurn,
  'a random set each session': randomSet,
  'one technique until done': oneUntilDone,
  'the same four until 80 %': sameFour,
  "what cost most in last week's runs": costliest,
  'its ranking: leaves below 0.5': withSetRule(leavesBelow(0.5)),
  'its ranking: leaves below 0.35': withSetRule(leavesBelow(0.35)),
  'its ranking: leaves below 0.2': withSetRule(leavesBelow(0.2)),
  'its ranking: leaves below 0.1': withSetRule(leavesBelow(0.1)),
  'its ranking: leaves only competent': withSetRule(leavesOnlyCompetent),
  'true rates ranked alike': trueRanking,
  'true rates handed out block by block': trueIndex,
};

export const handRules: readonly string[] = [
  'biggest save first',
  'easiest first',
  'best save per difficulty',
  'best save per hour by the scale',
  'the five biggest saves in turn',
  'a random set each session',
  'one technique until done',
  'the same four until 80 %',
  "what cost most in last week's runs",
];
