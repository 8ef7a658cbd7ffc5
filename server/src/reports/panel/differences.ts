import type { DifferenceRow, DifferencesView } from '../../protocol/panel/differencesView.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { formatNumber } from '../../text/format.ts';
import { formatTime } from '../../text/time.ts';
import { numberTicks } from './panelNames.ts';

/** Two times of one segment or of the whole, in seconds; null where one is missing. */
export interface TimePair {
  readonly id: string;
  readonly name: string;
  readonly first: number | null;
  readonly second: number | null;
  readonly isTotal: boolean;
}

/** The words of a comparison of times. */
export interface DifferenceWords extends Pick<DifferencesView, 'caption' | 'titles' | 'sides'> {
  /** Put behind the seconds where the second time is shorter, longer: `faster than usual`. */
  readonly shorter: string;
  readonly longer: string;
  readonly same: string;
  readonly onlyFirst: string;
  readonly onlySecond: string;
}

/** Seconds to either side that a chart shows at least: in a smaller one a tenth of a second would look like a lot. */
const leastReach = 1;

/** Pairs of times as the panel draws them. Seconds are shown to a tenth; less than half of that counts as the same. */
export function differencesView(pairs: readonly TimePair[], words: DifferenceWords): DifferencesView {
  const rows = pairs.map((pair) => differenceRow(pair, words));
  const most = rows.reduce((top, { delta }) => Math.max(top, Math.abs(delta ?? 0)), leastReach);
  const { caption, titles, sides } = words;
  return {
    caption,
    titles,
    sides,
    rows,
    reach: most,
    ticks: numberTicks(-most, most, (value) => signedSeconds(value, most < 3 ? 1 : 0)),
  };
}

function differenceRow(
  { id, name, first, second, isTotal }: TimePair,
  words: DifferenceWords,
): DifferenceRow {
  const delta = first === null || second === null ? null : second - first;
  const time = (seconds: number | null): string => (seconds === null ? '·' : formatTime(seconds, 1));
  return {
    id,
    name: sanitizeForTerminal(name),
    isTotal,
    delta,
    words:
      delta !== null ? differenceText(delta, words) : first === null ? words.onlySecond : words.onlyFirst,
    first: time(first),
    second: time(second),
  };
}

/** `1.2 s slower than usual`. */
export function differenceText(
  delta: number,
  { shorter, longer, same }: Pick<DifferenceWords, 'shorter' | 'longer' | 'same'>,
): string {
  const size = formatNumber(Math.abs(delta), 1);
  if (Number(size) === 0) return same;
  return `${size} s ${delta < 0 ? shorter : longer}`;
}

function signedSeconds(value: number, decimals: number): string {
  return `${value > 0 ? '+' : ''}${formatNumber(value, decimals)} s`;
}
