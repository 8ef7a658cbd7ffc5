import { useName } from '../files/schema/ids.ts';
import type { LogEntry } from '../journal/journalLines.ts';
import { formatCount, formatNumber } from '../text/format.ts';
import { sanitizeForTerminal } from '../safeText/terminal.ts';
import type { NameOf } from './logVocabulary.ts';

/**
 * An entry in a few words: `Crate vault, 24.5 min, 61 of 104 landed`, `a run of 41:30.2 that ended in harbor`, or
 * `38 runs on 2026-10-03, 2 finished`.
 *
 * @param nameOf gives the name of a technique or a segment; left out: its id
 */
export function describeEntry(entry: LogEntry, nameOf: NameOf = (id) => id): string {
  const named: NameOf = (id, what) => sanitizeForTerminal(nameOf(id, what));
  if (typeof entry.technique === 'string') return describeBlock(named(entry.technique, 'technique'), entry);
  if (typeof entry.segment === 'string')
    return `${describeBlock(named(entry.segment, 'segment'), entry)}${triedText(entry.tried, named)}`;
  return describeRun(entry, named);
}

/**
 * All of an entry but when it was, for a person who compares it with what was written: what `describeEntry` says, then
 * every other field, such as `a run of 3:41.0; times harbor 1:31.8, stairs 2:05`.
 */
export function describeWhole(entry: LogEntry): string {
  const isBlock = typeof entry.technique === 'string' || typeof entry.segment === 'string';
  const told = isBlock ? toldOfBlock : toldOfRun;
  const undated = Object.fromEntries(Object.entries(entry).filter(([key]) => key !== 'date'));
  const rest = Object.entries(undated).filter(([key]) => !told.has(key));
  return [describeEntry(undated), ...rest.map(([key, value]) => `${key} ${valueText(value)}`)]
    .map(sanitizeForTerminal)
    .join('; ');
}

const whenIt = ['id', 'start'];
const toldOfBlock = new Set([...whenIt, 'technique', 'segment', 'minutes', 'tape', 'landed', 'tried']);
const toldOfRun = new Set([...whenIt, 'total', 'tried', 'runs', 'finished']);

/** `harbor 1:31.8, stairs 2:05` for a mapping, `12 of 20` for counts. */
function valueText(value: unknown): string {
  if (Array.isArray(value)) return value.join(' of ');
  if (typeof value === 'object' && value !== null)
    return Object.entries(value)
      .map(([key, of]) => `${key} ${valueText(of)}`)
      .join(', ');
  return `${value as string | number}`;
}

/** Some entries for the end of a sentence: three at most, then how many more there are. */
export function describeEntries(entries: readonly LogEntry[], nameOf?: NameOf): string {
  const most = 3;
  const shown = entries.slice(0, most).map((entry) => describeEntry(entry, nameOf));
  const rest = entries.length - shown.length;
  return rest > 0
    ? `${shown.join('; ')}; and ${formatCount(rest, 'more entry', 'more entries')}`
    : shown.join('; ');
}

function describeBlock(name: string, { minutes, tape, landed }: LogEntry): string {
  const counts =
    typeof tape === 'string'
      ? landedText([...tape].filter((letter) => letter === 'l').length, tape.length)
      : countsText(landed);
  return [name, `${minutesText(minutes)} min`, ...(counts === undefined ? [] : [counts])].join(', ');
}

function describeRun(entry: LogEntry, named: NameOf): string {
  const { total, ended, tried, runs } = entry;
  if (typeof runs === 'number') return describeEvening(runs, entry) + triedText(tried, named);
  const end =
    typeof ended === 'object' && ended !== null && 'at' in ended && typeof ended.at === 'string'
      ? ` that ended in ${named(ended.at, 'segment')}`
      : '';
  const length = typeof total === 'string' ? ` of ${sanitizeForTerminal(total)}` : '';
  return `a run${length}${end}${triedText(tried, named)}`;
}

/** `, Crate vault 1 of 2 landed` for each technique that was tried. */
function triedText(tried: unknown, named: NameOf): string {
  const pairs = typeof tried === 'object' && tried !== null ? Object.entries(tried) : [];
  return pairs
    .flatMap(([id, counts]: [string, unknown]) => {
      const text = countsText(counts);
      return text === undefined ? [] : [`, ${nameOfUse(id, named)} ${text}`];
    })
    .join('');
}

function describeEvening(runs: number, { date, finished }: LogEntry): string {
  const day = typeof date === 'string' ? ` on ${sanitizeForTerminal(date)}` : '';
  return `${formatCount(runs, 'run')}${day}${typeof finished === 'number' ? `, ${finished} finished` : ''}`;
}

/** `Crate vault`, or `Crate vault@second` for one of several uses. */
function nameOfUse(id: string, named: NameOf): string {
  const [technique = '', use] = id.split('@');
  return useName(named(technique, 'technique'), use && sanitizeForTerminal(use));
}

function countsText(counts: unknown): string | undefined {
  const pair: readonly unknown[] = Array.isArray(counts) ? counts : [];
  return pair.length === 2 ? landedText(pair[0], pair[1]) : undefined;
}

function landedText(landed: unknown, tries: unknown): string {
  return `${String(landed)} of ${String(tries)} landed`;
}

function minutesText(minutes: unknown): string {
  const value = typeof minutes === 'number' ? minutes : 0;
  return formatNumber(value, Number.isInteger(value) ? 0 : 1);
}
