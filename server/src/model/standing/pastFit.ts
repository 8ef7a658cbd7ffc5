/** How a technique looked with a part of its log: what could be known of it on an earlier morning. */
import { gatherEvidence } from '../skill/evidence.ts';
import { countTablesIn } from '../skill/countTables.ts';
import { readHistory } from '../skill/practiceHistory.ts';
import type { PracticeHistory } from '../skill/practiceHistory.ts';
import { skillPosterior } from '../skill/skillPosterior.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { FittedTechnique, PreparedModel } from '../run/preparedModel.ts';
import type { Logs } from '../core/types.ts';

/** A technique's history and posterior from a part of its entries. */
export interface PastFit {
  readonly history: PracticeHistory;
  readonly posterior: SkillPosterior;
}

/**
 * Fits a technique to a part of its own entries. What is known of the runner is that of today, so a day's verdict
 * does not change with the entries of other techniques by more than they change that.
 */
export function fitPart(
  { technique, prior, paysFrom, posterior: { grid } }: FittedTechnique,
  { constants, losses, shared }: PreparedModel,
  { practice, runs }: Logs,
): PastFit {
  const tables = countTablesIn(shared, constants);
  const history = readHistory(technique, practice, runs, constants);
  const evidence = gatherEvidence(history.days, technique, grid, losses, constants, tables);
  return { history, posterior: skillPosterior(evidence, prior, grid, losses, paysFrom) };
}

/** The entries of a log up to a day. */
export function upToDay({ practice, runs }: Logs, last: number): Logs {
  const known = ({ day }: { readonly day: number }): boolean => day <= last;
  return { practice: practice.filter(known), runs: runs.filter(known) };
}
