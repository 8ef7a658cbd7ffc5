/** The words for where a technique stands: everything that shows a standing takes them from here. */
import type { Standing } from '../model/core/standing.ts';
import type { StandingKind } from '../model/core/types.ts';
import { leftOutSentence, obstacleSentence } from '../model/standing/obstacleSentence.ts';
import { formatDate } from '../text/calendar.ts';
import {
  formatCount,
  formatList,
  formatMinutes,
  formatPercent,
  formatTwoFigures,
  percentInWords,
} from '../text/format.ts';

/** The words that a runner reads for each standing. */
export const standingLabels: Readonly<Record<StandingKind, string>> = {
  'left-out': 'left out',
  waiting: 'waiting',
  again: 'to work on again',
  'in-run': 'in the run',
  learning: 'being learned',
  aside: 'put aside',
  'not-begun': 'not begun',
};

/** The mark of the techniques that are practised each session. */
export const inSetMark = 'in the practice set';

/**
 * The words for a standing at the beginning of a line.
 *
 * @example
 * standingTitle('again') // 'To work on again'
 */
export function standingTitle(kind: StandingKind): string {
  const label = standingLabels[kind];
  return label.charAt(0).toUpperCase() + label.slice(1);
}

/**
 * The practice set in one sentence: what is to be worked on again first, then what is being learned.
 *
 * @param standings kind of each technique, in the order in which they are to be named
 * @param nameOf name of a technique by its id
 */
export function practiceSetSentence(
  standings: readonly { readonly technique: string; readonly kind: StandingKind }[],
  nameOf: (id: string) => string,
): string {
  const named = (kind: StandingKind): string =>
    formatList(standings.filter((one) => one.kind === kind).map(({ technique }) => nameOf(technique)));
  const again = named('again');
  const learning = named('learning');
  if (again === '' && learning === '') return 'Nothing is being learned yet.';
  const parts = [
    ...(again === '' ? [] : [`to work on again: ${again}`]),
    ...(learning === '' ? [] : [`being learned: ${learning}`]),
  ];
  return `In the practice set, ${parts.join('; ')}.`;
}

/**
 * One sentence that says why a technique stands where it does, with the numbers that decide it.
 *
 * @param nameOf name of a technique by its id
 * @param withRates whether the sentence says the landing rate and the break-even, too; not where both are seen beside it
 */
export function standingSentence(
  standing: Standing,
  nameOf: (id: string) => string,
  withRates = true,
): string {
  const { cause, chancePays, breakEven, runNow } = standing;
  const rates = `it lands ${formatPercent(runNow)} in runs and pays from ${formatPercent(breakEven ?? 1)}`;
  const afterColon = withRates ? `: ${rates}` : '';
  const inBrackets = withRates ? ` (${rates})` : '';
  const pays = `the chance that trying it pays is ${percentInWords(chancePays)}`;
  const inRuns = `chance that trying it in runs pays is ${percentInWords(chancePays)}`;
  switch (cause.why) {
    case 'left out':
      return leftOutSentence;
    case 'waits':
      return obstacleSentence(cause.obstacle, nameOf);
    case 'item':
      return `It needs the item ${cause.item}, which nothing in the run picks up yet.`;
    case 'slipped': {
      const { week, expected } = cause.test;
      return `It landed ${week.landed} of ${week.tries} in the last week's runs, where about ${formatTwoFigures(expected)} were expected.`;
    }
    case 'costs time':
      return `Trying it in runs costs time${afterColon}.`;
    case 'never landed enough':
      return `Trying it in runs costs time, and it has not landed often enough there so far${afterColon}.`;
    case 'out of reach':
      return `Trying it in runs costs time${inBrackets}, and the chance that the next weeks of practice change that is ${percentInWords(cause.chance)}.`;
    case 'not back yet':
      return cause.slipped
        ? slippedBefore(formatDate(cause.day), standing.worthTrying, pays)
        : `It cost time in runs up to ${formatDate(cause.day)} and is not competent again: ${pays}.`;
    case 'fallen':
      return `It was competent and is no longer: ${pays}${inBrackets}.`;
    case 'competent':
      return `The ${inRuns}${afterColon}.`;
    case 'was competent':
      return `It became competent, last seen on ${formatDate(cause.day)}; now ${pays}.`;
    case 'tried in runs':
      return cause.written
        ? 'The week file has it in the run, and no entry speaks against that.'
        : 'It is tried in runs, and they do not speak against it.';
    case 'never pays':
      return 'It saves time at no landing rate.';
    case 'carries':
      return `It saves nothing by itself, and lands often enough to open ${cause.opens.map(nameOf).join(', ')}.`;
    case 'practised':
      return `Practised on ${practice(cause)} so far: the ${inRuns}.`;
    case 'taken up by hand':
      return `Its state in the week file is learning; the ${inRuns}.`;
    case 'hopeless':
      return `After ${practice(cause)} of practice, the chance that it will pay within the next weeks is ${percentInWords(cause.chance)}.`;
    case 'not practised':
      return `Not practised in the last ${cause.sessions} sessions; last on ${formatDate(cause.lastDay)}.`;
    case 'put aside by hand':
      return 'The week file says that it is not begun, so it is put aside.';
    case 'nothing logged':
      return 'Nothing of it is logged.';
  }
}

/** A slip of an earlier week that later runs have not made good. Where trying pays all the same, that is no contradiction. */
function slippedBefore(date: string, worthTrying: boolean, pays: string): string {
  const slipped = `It slipped in runs up to ${date} and has not landed as often as before since`;
  return worthTrying
    ? `${slipped}. It still lands often enough to try it in runs: ${pays}. Practise it until it lands as before.`
    : `${slipped}: ${pays}.`;
}

function practice({ days, minutes }: { readonly days: number; readonly minutes: number }): string {
  return `${formatCount(days, 'day')} (${formatMinutes(minutes)})`;
}
