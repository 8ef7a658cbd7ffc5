import { needlessAllowance } from './allowances.ts';
import { afterTheEnd } from './afterTheEnd.ts';
import { attemptsExceedMinutes } from './attemptsExceedMinutes.ts';
import { belowBreakEven } from './belowBreakEven.ts';
import { blockNotCounted } from './blockNotCounted.ts';
import { countsDisagree } from './countsDisagree.ts';
import { cycleSlowerThanWritten } from './cycleSlowerThanWritten.ts';
import { dateInFuture } from './dateInFuture.ts';
import { datesOutOfOrder } from './datesOutOfOrder.ts';
import { drilledPastUse } from './drilledPastUse.ts';
import { duplicateSegment } from './duplicateSegment.ts';
import { duplicateUse } from './duplicateUse.ts';
import { endedByAnother } from './endedByAnother.ts';
import { firstExceedsTried } from './firstExceedsTried.ts';
import { formerIdInUse } from './formerIdInUse.ts';
import { gapInPractice } from './gapInPractice.ts';
import { impossibleTotal } from './impossibleTotal.ts';
import { itemNeverUsed } from './itemNeverUsed.ts';
import { itemTakenTooLate } from './itemTakenTooLate.ts';
import { loggedTwice } from './loggedTwice.ts';
import { loneSpot } from './loneSpot.ts';
import { longDay } from './longDay.ts';
import { longPracticeDay } from './longPracticeDay.ts';
import { longPracticeLogged } from './longPracticeLogged.ts';
import { manyHours } from './manyHours.ts';
import { maxTriesWithoutRetry } from './maxTriesWithoutRetry.ts';
import { missChances } from './missChances.ts';
import { moreLandedThanTried } from './moreLandedThanTried.ts';
import { needsCycle } from './needsCycle.ts';
import { needsHarder } from './needsHarder.ts';
import { noNightBetween } from './noNightBetween.ts';
import { notADate } from './notADate.ts';
import { notEnoughMinutes } from './notEnoughMinutes.ts';
import { oneTechniqueSession } from './oneTechniqueSession.ts';
import { overlappingEntries } from './overlappingEntries.ts';
import { ownTimeFarOff } from './ownTimeFarOff.ts';
import { pinnedAndLeftOut } from './pinnedAndLeftOut.ts';
import { rangeBackwards } from './rangeBackwards.ts';
import { restartUnwritten } from './restartUnwritten.ts';
import { retryTooDear } from './retryTooDear.ts';
import { runWithoutEnd } from './runWithoutEnd.ts';
import { runsDoNotAddUp } from './runsDoNotAddUp.ts';
import { savesNothing } from './savesNothing.ts';
import { savesTooMuch } from './savesTooMuch.ts';
import { scatteredPractice } from './scatteredPractice.ts';
import { secondChanceNeverComes } from './secondChanceNeverComes.ts';
import { setChangedEarly } from './setChangedEarly.ts';
import { severalRunners } from './severalRunners.ts';
import { slowCycle } from './slowCycle.ts';
import { spreadTooLarge } from './spreadTooLarge.ts';
import { stateAgainstLogs } from './stateAgainstLogs.ts';
import { surviveUnlikely } from './surviveUnlikely.ts';
import { targetAlreadyBeaten } from './targetAlreadyBeaten.ts';
import { targetOutOfReach } from './targetOutOfReach.ts';
import { techniqueUnused } from './techniqueUnused.ts';
import { tooManyPins } from './tooManyPins.ts';
import { triedTooOften } from './triedTooOften.ts';
import { unknownItem } from './unknownItem.ts';
import { unknownRoute } from './unknownRoute.ts';
import { unknownSegment } from './unknownSegment.ts';
import { unknownTechnique } from './unknownTechnique.ts';
import { unknownUse } from './unknownUse.ts';
import { unlikelySegmentTime } from './unlikelySegmentTime.ts';
import { uselessBackup } from './uselessBackup.ts';
import type { ForecastRule, Rule } from './rule.ts';

/** Every check that is fast enough for each keystroke. */
export const rules: readonly Rule[] = [
  unknownRoute,
  unknownTechnique,
  unknownSegment,
  unknownUse,
  unknownItem,
  duplicateSegment,
  duplicateUse,
  needsCycle,
  savesTooMuch,
  rangeBackwards,
  missChances,
  slowCycle,
  techniqueUnused,
  notADate,
  datesOutOfOrder,
  dateInFuture,
  moreLandedThanTried,
  countsDisagree,
  attemptsExceedMinutes,
  longDay,
  runsDoNotAddUp,
  impossibleTotal,
  pinnedAndLeftOut,
  notEnoughMinutes,
  longPracticeDay,
  severalRunners,
  oneTechniqueSession,
  noNightBetween,
  scatteredPractice,
  longPracticeLogged,
  cycleSlowerThanWritten,
  blockNotCounted,
  overlappingEntries,
  loggedTwice,
  afterTheEnd,
  runWithoutEnd,
  unlikelySegmentTime,
  triedTooOften,
  firstExceedsTried,
  endedByAnother,
  itemNeverUsed,
  itemTakenTooLate,
  spreadTooLarge,
  surviveUnlikely,
  uselessBackup,
  secondChanceNeverComes,
  maxTriesWithoutRetry,
  savesNothing,
  needsHarder,
  manyHours,
  restartUnwritten,
  targetOutOfReach,
  targetAlreadyBeaten,
  loneSpot,
  formerIdInUse,
  retryTooDear,
  tooManyPins,
  stateAgainstLogs,
  ownTimeFarOff,
];

/** Checks that wait for the model's estimates. */
export const forecastRules: readonly ForecastRule[] = [
  belowBreakEven,
  setChangedEarly,
  drilledPastUse,
  gapInPractice,
];

/** What reading a file can find, all of it errors: part of the text has no meaning. */
export const readingCodes: readonly { readonly code: string; readonly title: string }[] = [
  { code: 'aliases-too-large', title: 'Aliases that stand for too many values to be read.' },
  { code: 'control-character', title: 'A character that belongs in no text file.' },
  { code: 'difficulty-out-of-scale', title: 'A difficulty that is not on the scale from 1 to 10.' },
  { code: 'duplicate-key', title: 'A key that stands twice in one map.' },
  { code: 'empty-file', title: 'A file without any key.' },
  { code: 'file-too-large', title: 'A file too large to be read.' },
  { code: 'invalid-id', title: 'An id with characters that ids do not have.' },
  { code: 'merge-conflict', title: 'Markers that a merge left behind.' },
  { code: 'missing-key', title: 'A key that is required and not there.' },
  { code: 'nested-too-deep', title: 'More levels than a route can have.' },
  { code: 'out-of-range', title: 'A number below or above what is possible.' },
  { code: 'several-documents', title: 'A second document in one file.' },
  { code: 'unknown-key', title: 'A key that means nothing where it stands.' },
  { code: 'unreadable-time', title: 'A time that cannot be read.' },
  { code: 'wrong-type', title: 'A value of the wrong kind, such as text for a number.' },
  { code: 'wrong-value', title: 'A value that is none of those allowed.' },
  { code: 'yaml-syntax', title: 'Text that is not YAML.' },
];

/** What is found about comments that let findings stand. */
export const commentCodes: readonly Omit<Rule, 'check' | 'page'>[] = [needlessAllowance];

/** Every code that a finding can have. */
export const allCodes: ReadonlySet<string> = new Set(
  [...rules, ...forecastRules, ...readingCodes, ...commentCodes].map(({ code }) => code),
);

const forecastCodes: ReadonlySet<string> = new Set(forecastRules.map(({ code }) => code));

/** Whether a code's rule waits for the model's estimates. */
export function needsForecast(code: string): boolean {
  return forecastCodes.has(code);
}
