import type { DifferenceRow, DifferencesView } from '../../protocol/panel/differencesView.ts';
import type { Tick } from '../../protocol/panel/viewParts.ts';
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
  const ticks = outerTicks(most);
  const { caption, titles, sides } = words;
  return {
    caption,
    titles,
    sides,
    rows,
    reach: ticks.at(-1)?.at ?? most,
    ticks,
  };
}

/** Ticks to either side of zero, so far out that the outer ones enclose `most` seconds. */
function outerTicks(most: number): Tick[] {
  const [first, second] = numberTicks(-most, most, String);
  const step = first && second ? second.at - first.at : most;
  // Rounding must not add a tick where the outermost one is reached exactly.
  const count = Math.ceil(most / step - 1e-9);
  return Array.from({ length: 2 * count + 1 }, (_, i) => {
    const at = (i - count) * step;
    return { at, label: signedSeconds(at, step < 1 ? 1 : 0) };
  });
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
