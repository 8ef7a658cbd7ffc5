import { formatDate } from '../../text/calendar.ts';
import { constantNotes } from '../../model/core/constants.ts';
import type { Constants } from '../../model/core/constants.ts';
import { ModelCache } from '../../model/core/modelCache.ts';
import { rank } from '../../model/index.ts';
import { type CycleAlternative, quickerRepeats, rankWithCycle } from '../../model/rank/cycleAlternative.ts';
import { explainTechnique, type Explanation } from '../../model/rank/explainTechnique.ts';
import { resetPreference, type ResetPreference } from '../../model/rank/resetPreference.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { cycleAlternatives, type TechniqueCycle } from '../rank/cycleAlternatives.ts';
import type { Standing } from '../../model/core/standing.ts';
import type { Ranking, RankRow } from '../../model/core/results.ts';
import { cycleAlternativeJson } from './cycleAlternative.ts';
import { othersFacts, type OthersFacts } from '../othersText.ts';

/** An explanation of one technique's row: `rank --explain` prints it. */
export interface ExplainReport {
  readonly asOf: string;
  readonly explanation: Explanation;
  readonly standing: Standing;
  /** Its row and its place (1 is the first); null where it is not ranked. */
  readonly row: RankRow | null;
  readonly place: number | null;
  /** Number of ranked techniques. */
  readonly ranked: number;
  /** The first places at other weights of a second lost to resets; null where no miss on the route ends the run. */
  readonly resetPreference: ResetPreference | null;
  /** The technique with half the cycle. */
  readonly halved: CycleAlternative | undefined;
  readonly alternatives: readonly CycleAlternative[];
  /** What other runners found out; null where nothing is known of any. */
  readonly others: OthersFacts | null;
  /** Its row with a quicker repeat, where that would bring it into the first three places. */
  readonly quicker: CycleAlternative | undefined;
}

/**
 * Explains the row of one technique: the row of the ranking that was asked for, with the same place. A technique that
 * this ranking leaves to runs is explained in the ranking of all techniques.
 *
 * @param technique id of a technique of the route
 * @param cycles other cycles, for each of which a row is ranked as well
 * @param cache what is worked out once, for the caller to use again
 */
export function explainReport(
  asked: ModelInput,
  technique: string,
  cycles: readonly TechniqueCycle[],
  cache = new ModelCache(),
): ExplainReport {
  const { modelInput, ranking } = rankingWith(technique, asked, cache);
  const explanation = explainTechnique(modelInput, technique, cache);
  const model = modelInput.route.techniques.find(({ id }) => id === technique);
  const standing = ranking.standings.find((one) => one.technique === technique);
  if (!explanation || !model || !standing) throw new Error(`The route has no technique ${technique}.`);
  const index = ranking.rows.findIndex((row) => row.technique === technique);
  const halfCycle = (model.attemptSeconds + model.reloadSeconds) / 2;
  return {
    asOf: formatDate(modelInput.asOfDay),
    others: othersFacts(model, modelInput.constants),
    explanation,
    standing,
    row: ranking.rows[index] ?? null,
    place: index < 0 ? null : index + 1,
    ranked: ranking.rows.length,
    resetPreference: resetPreference(modelInput, cache),
    halved: rankWithCycle(modelInput, ranking, technique, halfCycle, cache),
    quicker: quickerRepeats(modelInput, ranking, cache, technique)[0],
    alternatives: cycleAlternatives(modelInput, ranking, cycles, cache),
  };
}

/** The ranking that is asked for; that of all techniques where runs keep the technique up. */
function rankingWith(
  technique: string,
  modelInput: ModelInput,
  cache: ModelCache,
): { readonly modelInput: ModelInput; readonly ranking: Ranking } {
  const ranking = rank(modelInput, cache);
  const hasRow = ranking.rows.some((row) => row.technique === technique);
  const inRun = ranking.standings.some((one) => one.technique === technique && one.kind === 'in-run');
  if (hasRow || !inRun) return { modelInput, ranking };
  const withAll = { ...modelInput, options: { ...modelInput.options, all: true } };
  return { modelInput: withAll, ranking: rank(withAll, cache) };
}

/** The model's constants that the explanation uses, in the order of use. */
export const usedConstants: readonly (keyof Constants)[] = [
  ...(['unitPractice', 'daySaturation', 'overnightGain', 'halfLife', 'concentration'] as const),
  ...(['midwayAtEasiest', 'midwayPerStep', 'midwaySd', 'offsetSd'] as const),
  ...(['pressureMean', 'pressureSd', 'ownPressureSd', 'clockWeight', 'horizonBlocks', 'readyRate'] as const),
];

/** What `rank --explain TECHNIQUE --json` prints: every number with six significant figures. */
export function explainJson(report: ExplainReport) {
  const { asOf, explanation, row, place, others, resetPreference: preference, halved, alternatives } = report;
  const { days, constants, ...rest } = explanation;
  return {
    asOf,
    ...(roundToSixFigures({ place, row, ...rest }) as object),
    days: days.map(({ day, ...numbers }) => ({
      date: formatDate(day),
      ...(roundToSixFigures(numbers) as object),
    })),
    ...(others !== null && { others: roundToSixFigures(others) }),
    resetPreference: preference,
    halvedCycle: halved === undefined ? null : cycleAlternativeJson(halved),
    alternatives: alternatives.map(cycleAlternativeJson),
    constants: usedConstants.map((name) => ({ name, value: constants[name], ...constantNotes[name] })),
  };
}

/** A value with every number in it rounded to six significant figures, more than the precision of any of them. */
function roundToSixFigures(value: unknown): unknown {
  if (typeof value === 'number') return Number(value.toPrecision(6)) + 0;
  if (Array.isArray(value)) return value.map(roundToSixFigures);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, roundToSixFigures(inner)]));
}
