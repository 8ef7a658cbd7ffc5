import type { StandingReport } from '../../protocol/standing.ts';
import { nameLookup } from '../../queries/names.ts';
import {
  formatCount,
  formatHours,
  formatList,
  formatPercentRange,
  formatSeconds,
} from '../../text/format.ts';
import { heading, prose, tableOf, type LinesPart, type Page, type PagePart } from '../page.ts';
import { standingsById } from '../standingReports.ts';
import { fewTries, type CountedRate, type ProgressReport, type TechniqueProgress } from './progressReport.ts';
import {
  bestText,
  clock,
  countedPercent,
  hoursText,
  isCut,
  periodsText,
  standingWords,
  summaryText,
} from './progressWords.ts';

export interface ProgressPageOptions {
  readonly title: string;
  /** Whole sentences on the day that it is for, and on the logs. */
  readonly basis: string;
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
  readonly standings: readonly StandingReport[];
}

/** So many of the best times are listed, the last ones. */
const mostRecords = 10;

/** A look back over the months for people; undefined where nothing is logged. */
export function progressPage(
  report: ProgressReport | undefined,
  { title, basis, names, standings }: ProgressPageOptions,
): Page {
  if (report === undefined) return { title, parts: [prose(basis), prose(nothingLogged)] };
  const nameOf = nameLookup(names);
  const logged = report.techniques.filter(({ isLogged }) => isLogged);
  const quiet = report.techniques.filter(({ isLogged }) => !isLogged);
  return {
    title,
    parts: [
      prose(basis),
      prose(summaryText(report)),
      ...ratePart(`Landing rate in practice, by ${report.unit}`, report, ({ practice }) => practice, nameOf),
      ...ratePart(`Landing rate in runs, by ${report.unit}`, report, ({ run }) => run, nameOf),
      prose(
        `There is a bar for each ${report.unit}: the higher it is, the more of the tries landed. A gap means that no try was counted. ` +
          `A range is given where there are fewer than ${fewTries} tries: by those counts alone, the rate lies in it in 8 of 10 cases.`,
      ),
      ...(logged.length > 0
        ? [heading('Techniques'), techniqueTable(report, logged, standings, nameOf)]
        : []),
      ...(quiet.length > 0
        ? [prose(`Nothing is logged of ${formatList(quiet.map(({ technique }) => nameOf(technique)))}.`)]
        : []),
      ...timesPart(report),
      heading('Hours of practice'),
      ...hoursPart(report),
    ],
  };
}

/** What to do where nothing is logged. */
export const nothingLogged =
  'Nothing is logged yet. Log a block of practice or a run, and this shows how they change over the months.';

function ratePart(
  title: string,
  report: ProgressReport,
  historyOf: (one: TechniqueProgress) => TechniqueProgress['practice'],
  nameOf: (id: string) => string,
): PagePart[] {
  const rows = report.techniques.flatMap((one) => {
    const { points, shown } = historyOf(one);
    if (shown === null) return [];
    return [
      {
        name: nameOf(one.technique),
        shares: points.map((point) => point?.rate ?? null),
        text: shownText(shown),
      },
    ];
  });
  const lines: LinesPart = { kind: 'lines', rows };
  return [heading(title), rows.length > 0 ? lines : prose(`No try is counted in ${periodsText(report)}.`)];
}

function shownText(counted: CountedRate): string {
  const { tries, range } = counted;
  const said = `${countedPercent(counted)} of ${formatCount(tries, 'try', 'tries')}`;
  return range === null ? said : `${said} (${formatPercentRange(range)})`;
}

function techniqueTable(
  report: ProgressReport,
  logged: readonly TechniqueProgress[],
  standings: readonly StandingReport[],
  nameOf: (id: string) => string,
): PagePart {
  const standing = standingsById(standings);
  const cut = isCut(report);
  return tableOf(
    ['Technique', 'Standing', 'Practice', ...(cut ? ['In the time shown'] : [])],
    logged.map((one) => [
      nameOf(one.technique),
      standingWords(standing.get(one.technique)),
      hoursOrNone(one.allMinutes),
      ...(cut ? [hoursOrNone(one.shownMinutes)] : []),
    ]),
    cut ? 'llrr' : 'llr',
  );
}

function hoursOrNone(minutes: number): string {
  return minutes === 0 ? 'none' : formatHours(minutes / 60);
}

function timesPart({ times }: ProgressReport): PagePart[] {
  const { records } = times;
  const shown = records.slice(-mostRecords);
  const left = records.length - shown.length;
  return [
    heading('Best finished time'),
    prose(bestText(times)),
    ...(shown.length > 0
      ? [
          tableOf(
            ['Run', 'Best time', 'Faster by'],
            shown.map(({ start, seconds, fasterBy }) => [
              start,
              clock(seconds),
              fasterBy === null ? '' : formatSeconds(fasterBy),
            ]),
          ),
        ]
      : []),
    ...(left > 0 ? [prose(`${formatCount(left, 'earlier best time')} not listed.`)] : []),
  ];
}

function hoursPart(report: ProgressReport): PagePart[] {
  const { byPeriod } = report.practice;
  const most = byPeriod.reduce((top, { hoursAWeek }) => Math.max(top, hoursAWeek), 0);
  if (most === 0) return [prose(hoursText(report))];
  const lines: LinesPart = {
    kind: 'lines',
    rows: [
      {
        name: 'Hours a week',
        shares: byPeriod.map(({ hoursAWeek }) => (hoursAWeek > 0 ? hoursAWeek / most : null)),
        text: `at most ${formatHours(most)}`,
      },
    ],
  };
  return [lines, prose(hoursText(report))];
}
