import type { Run } from '../../files/documents/documents.ts';
import type { Breakdown } from '../../model/run/breakdown.ts';
import type { AfterView } from '../../protocol/panel/afterView.ts';
import { formatMoment } from '../../text/calendar.ts';
import { formatCount } from '../../text/format.ts';
import { formatTime } from '../../text/time.ts';
import { prose, type Page } from '../page.ts';
import { differencesView, differenceText, type DifferenceWords, type TimePair } from './differences.ts';
import { panelParts } from './panelParts.ts';
import { segmentName, type PanelNames } from './panelNames.ts';

const words: DifferenceWords = {
  caption: 'The run against the usual, by segment',
  titles: { first: 'Usual', second: 'This run' },
  sides: { less: 'faster', more: 'slower' },
  shorter: 'faster than usual',
  longer: 'slower than usual',
  same: 'as usual',
  onlyFirst: 'no time in this run',
  onlySecond: 'no usual time',
};

const usualMeaning =
  'Usual is what was expected of a segment from everything but this run: its time, and the techniques tried in it.';

/** A run that can be chosen, with its key. */
export interface KeyedRun {
  readonly key: string;
  readonly run: Run;
}

/**
 * One logged run as the panel shows it: its times against those expected from everything else, and what it changed.
 *
 * @param runs all runs that can be chosen, the last one first
 * @param page what the run changed, in words
 */
export function afterView(
  { key, run }: KeyedRun,
  runs: readonly KeyedRun[],
  usual: Breakdown['segments'],
  page: Page,
  names: PanelNames,
): AfterView {
  const pairs = timePairs(run, usual, names);
  return {
    run: key,
    runs: runs.map((one) => ({ run: one.key, label: runLabel(one.run, names) })),
    summary: summaryText(run, pairs, names),
    differences: differencesView(pairs, words),
    parts: panelParts([prose(usualMeaning), ...page.parts]),
  };
}

/** The times of a run beside the usual ones: segment by segment, and all of them together. */
function timePairs(run: Run, usual: Breakdown['segments'], names: PanelNames): TimePair[] {
  const own = new Map(run.times.map(({ id, seconds }) => [id, seconds]));
  const played = usual.filter(({ segment }) => own.has(segment));
  const segments = played.map(({ segment, seconds }): TimePair => ({
    id: segment,
    name: segmentName(names, segment),
    first: seconds,
    second: own.get(segment)!,
    isTotal: false,
  }));
  const whole = wholeRun(run, usual, played.length === usual.length);
  if (whole === undefined && segments.length < 2) return segments;
  const total: TimePair = {
    id: '',
    name: whole === undefined ? 'These segments together' : 'The whole run',
    first: sumOf((whole === undefined ? played : usual).map(({ seconds }) => seconds)),
    second: whole ?? sumOf(segments.map(({ second }) => second ?? 0)),
    isTotal: true,
  };
  return [...segments, total];
}

/** The final time of a run; undefined where it did not finish, or where that cannot be told. */
function wholeRun(run: Run, usual: Breakdown['segments'], allPlayed: boolean): number | undefined {
  if (run.endings.length > 0 || usual.length === 0) return undefined;
  return run.total ?? (allPlayed ? sumOf(run.times.map(({ seconds }) => seconds)) : undefined);
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, one) => sum + one, 0);
}

function summaryText(run: Run, pairs: readonly TimePair[], names: PanelNames): string {
  const [ending] = run.endings;
  const total = pairs.find(({ isTotal }) => isTotal) ?? pairs[0];
  const against =
    total === undefined || total.first === null || total.second === null ? null : total.second - total.first;
  const compared = against === null ? '' : differenceText(against, words);
  if (ending !== undefined) {
    const end = `The run ended in ${segmentName(names, ending.segment)}.`;
    if (against === null) return `${end} No segment of it has a time, so there is nothing to compare.`;
    const many =
      pairs.length > 1 ? 'The segments before that, together, went' : 'The segment before that went';
    return `${end} ${many} ${compared}.`;
  }
  if (against === null) return 'The run has no time that can be compared with the usual one.';
  return total?.isTotal === true
    ? `The run took ${formatTime(total.second ?? 0, 1)}, ${compared}.`
    : `The run went ${compared} in the segment that has a time.`;
}

/** `2026-10-04 16:34, 41:51.1`, the segment that it came to, or how many segments have a time. */
function runLabel(run: Run, names: PanelNames): string {
  const when = formatMoment(run.start).replace('T', ' ');
  const [ending] = run.endings;
  if (ending !== undefined) return `${when}, to ${segmentName(names, ending.segment)}`;
  if (run.total !== undefined) return `${when}, ${formatTime(run.total, 1)}`;
  const { times } = run;
  if (times.length < names.segments.size) return `${when}, ${formatCount(times.length, 'segment')}`;
  return `${when}, ${formatTime(sumOf(times.map(({ seconds }) => seconds)), 1)}`;
}
