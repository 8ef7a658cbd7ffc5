import { needlessAllowance } from './allowances.ts';
import { afterTheEnd } from './checks/runs/afterTheEnd.ts';
import { attemptsExceedMinutes } from './checks/practice/attemptsExceedMinutes.ts';
import { landsTooRarely } from './checks/runs/landsTooRarely.ts';
import { blockNotCounted } from './checks/practice/blockNotCounted.ts';
import { countsDisagree } from './checks/practice/countsDisagree.ts';
import { cycleSlowerThanWritten } from './checks/practice/cycleSlowerThanWritten.ts';
import { dateInFuture } from './checks/logs/dateInFuture.ts';
import { datesOutOfOrder } from './checks/logs/datesOutOfOrder.ts';
import { drilledPastUse } from './checks/practice/drilledPastUse.ts';
import { duplicateSegment } from './checks/route/duplicateSegment.ts';
import { duplicateUse } from './checks/route/duplicateUse.ts';
import { endedByAnother } from './checks/runs/endedByAnother.ts';
import { firstExceedsTried } from './checks/runs/firstExceedsTried.ts';
import { formerIdInUse } from './checks/route/formerIdInUse.ts';
import { gapInPractice } from './checks/practice/gapInPractice.ts';
import { impossibleTotal } from './checks/runs/impossibleTotal.ts';
import { itemNeverUsed } from './checks/route/itemNeverUsed.ts';
import { itemTakenTooLate } from './checks/route/itemTakenTooLate.ts';
import { learningButLeftOut } from './checks/week/learningButLeftOut.ts';
import { loggedTwice } from './checks/logs/loggedTwice.ts';
import { loneSpot } from './checks/route/loneSpot.ts';
import { longDay } from './checks/practice/longDay.ts';
import { longPracticeDay } from './checks/week/longPracticeDay.ts';
import { longPracticeLogged } from './checks/practice/longPracticeLogged.ts';
import { manyHours } from './checks/route/manyHours.ts';
import { maxTriesWithoutRetry } from './checks/route/maxTriesWithoutRetry.ts';
import { missChances } from './checks/route/missChances.ts';
import { moreCountedThanNamed } from './checks/pool/moreCountedThanNamed.ts';
import { moreLandedThanTried } from './checks/logs/moreLandedThanTried.ts';
import { needsCycle } from './checks/route/needsCycle.ts';
import { needsHarder } from './checks/route/needsHarder.ts';
import { noNightBetween } from './checks/practice/noNightBetween.ts';
import { notADate } from './checks/logs/notADate.ts';
import { notEnoughMinutes } from './checks/week/notEnoughMinutes.ts';
import { oneTechniqueSession } from './checks/practice/oneTechniqueSession.ts';
import { overlappingEntries } from './checks/logs/overlappingEntries.ts';
import { ownTimeFarOff } from './checks/week/ownTimeFarOff.ts';
import { pinnedAndLeftOut } from './checks/week/pinnedAndLeftOut.ts';
import { pooledRunnerTwice } from './checks/pool/pooledRunnerTwice.ts';
import { pooledUnderTwoIds } from './checks/pool/pooledUnderTwoIds.ts';
import { poolOfOtherCurves } from './checks/pool/poolOfOtherCurves.ts';
import { rangeBackwards } from './checks/route/rangeBackwards.ts';
import { restartUnwritten } from './checks/route/restartUnwritten.ts';
import { retryTooDear } from './checks/route/retryTooDear.ts';
import { runWithoutEnd } from './checks/runs/runWithoutEnd.ts';
import { runsDoNotAddUp } from './checks/runs/runsDoNotAddUp.ts';
import { savesNothing } from './checks/route/savesNothing.ts';
import { savesTooMuch } from './checks/route/savesTooMuch.ts';
import { scatteredPractice } from './checks/practice/scatteredPractice.ts';
import { unreachableRetry } from './checks/route/unreachableRetry.ts';
import { setChangedEarly } from './checks/practice/setChangedEarly.ts';
import { overstatedInPool } from './checks/pool/overstatedInPool.ts';
import { ratedUnlikeOthers } from './checks/pool/ratedUnlikeOthers.ts';
import { severalPools } from './checks/pool/severalPools.ts';
import { severalRunners } from './checks/logs/severalRunners.ts';
import { slowCycle } from './checks/route/slowCycle.ts';
import { spreadTooLarge } from './checks/route/spreadTooLarge.ts';
import { stateAgainstLogs } from './checks/week/stateAgainstLogs.ts';
import { surviveUnlikely } from './checks/route/surviveUnlikely.ts';
import { targetAlreadyBeaten } from './checks/week/targetAlreadyBeaten.ts';
import { targetOutOfReach } from './checks/week/targetOutOfReach.ts';
import { techniqueUnused } from './checks/route/techniqueUnused.ts';
import { tooLarge } from './checks/route/tooLarge.ts';
import { tooManyPins } from './checks/week/tooManyPins.ts';
import { triedTooOften } from './checks/runs/triedTooOften.ts';
import { unknownInPool } from './checks/pool/unknownInPool.ts';
import { unknownItem } from './checks/route/unknownItem.ts';
import { unknownRoute } from './checks/logs/unknownRoute.ts';
import { unknownSegment } from './checks/logs/unknownSegment.ts';
import { unknownTechnique } from './checks/route/unknownTechnique.ts';
import { unknownUse } from './checks/logs/unknownUse.ts';
import { unlikelySegmentTime } from './checks/runs/unlikelySegmentTime.ts';
import { unusedWeekFile } from './checks/week/unusedWeekFile.ts';
import { uselessBackup } from './checks/route/uselessBackup.ts';
import type { ForecastRule, Rule } from './engine/rule.ts';

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
  tooLarge,
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
  unreachableRetry,
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
  learningButLeftOut,
  unusedWeekFile,
  ownTimeFarOff,
  unknownInPool,
  poolOfOtherCurves,
  severalPools,
  pooledRunnerTwice,
  moreCountedThanNamed,
  pooledUnderTwoIds,
  overstatedInPool,
  ratedUnlikeOthers,
];

/** Checks that wait for the model's estimates. */
export const forecastRules: readonly ForecastRule[] = [
  landsTooRarely,
  setChangedEarly,
  drilledPastUse,
  gapInPractice,
  stateAgainstLogs,
];

/** What reading a file can find, all of it errors: part of the text has no meaning. */
export const readingCodes: readonly { readonly code: string; readonly title: string }[] = [
  { code: 'aliases-too-large', title: 'Aliases that stand for too many values to be read.' },
  { code: 'control-character', title: 'A character that belongs in no text file.' },
  { code: 'difficulty-out-of-scale', title: 'A difficulty that is not on the scale from 1 to 10.' },
  { code: 'duplicate-key', title: 'A key that is written twice in one map.' },
  { code: 'empty-file', title: 'A file without any key.' },
  {
    code: 'file-not-read',
    title: 'A file that is not read: no regular file, out of reach, or not readable.',
  },
  { code: 'file-too-large', title: 'A file too large to be read.' },
  { code: 'invalid-id', title: 'An id with characters that ids do not have.' },
  { code: 'merge-conflict', title: 'Markers that a merge left behind.' },
  { code: 'misnamed-file', title: 'A file that is not read, because its name is nearly right.' },
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

/** What is found about comments that allow findings. */
export const commentCodes: readonly Omit<Rule, 'check' | 'page'>[] = [needlessAllowance];

/** Every code that a finding can have. */
export const findingCodes: ReadonlySet<string> = new Set(
  [...rules, ...forecastRules, ...readingCodes, ...commentCodes].map(({ code }) => code),
);

const forecastCodes: ReadonlySet<string> = new Set(forecastRules.map(({ code }) => code));

/** Whether a code's rule waits for the model's estimates. */
export function needsForecast(code: string): boolean {
  return forecastCodes.has(code);
}

/** Codes whose findings are held back while part of a route cannot be read. */
export const wholeRouteCodes: ReadonlySet<string> = new Set(
  [...rules, ...forecastRules].flatMap(({ code, needsWholeRoute }) => (needsWholeRoute ? [code] : [])),
);
