/** The policies that are compared. */
import { clairvoyant, greedyClairvoyant } from './clairvoyant.ts';
import { biggestSave, easiest, oneUntilDone, randomSet, savePerDifficulty } from './handRules.ts';
import type { MakePolicy } from './policy.ts';
import { tool } from './tool.ts';

/** What every other policy is measured against. */
export const reference: MakePolicy = clairvoyant;

/** By the title that stands in the table, without a comma: `--policies` takes several with commas between. */
export const policies: Readonly<Record<string, MakePolicy>> = {
  'this tool': tool,
  'biggest save first': biggestSave,
  'easiest first': easiest,
  'best save per difficulty': savePerDifficulty,
  'a random set each session': randomSet,
  'one technique until done': oneUntilDone,
  'true rates ranked alike': greedyClairvoyant,
};

export const handRules: readonly string[] = [
  'biggest save first',
  'easiest first',
  'best save per difficulty',
  'a random set each session',
  'one technique until done',
];
