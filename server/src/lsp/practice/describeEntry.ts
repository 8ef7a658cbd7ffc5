import type { LogEntry } from '../../journal/journalLines.ts';
import { formatCount, formatNumber } from '../../text/format.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';

/** `Crate vault, 24.5 min, 61 of 104 landed` of an entry of a log. */
export function describeEntry(entry: LogEntry, nameOf: (technique: string) => string): string {
  const { technique, minutes, tape, landed, total } = entry;
  if (typeof technique !== 'string')
    return typeof total === 'string' ? `a run of ${sanitizeForTerminal(total)}` : 'a run';
  const parts = [sanitizeForTerminal(nameOf(technique)), `${minutesText(minutes)} min`];
  const counts: readonly unknown[] = Array.isArray(landed) ? landed : [];
  if (typeof tape === 'string') parts.push(`${landedIn(tape)} of ${tape.length} landed`);
  else if (counts.length === 2) parts.push(`${String(counts[0])} of ${String(counts[1])} landed`);
  return parts.join(', ');
}

function landedIn(tape: string): number {
  return [...tape].filter((letter) => letter === 'l').length;
}

function minutesText(minutes: unknown): string {
  const value = typeof minutes === 'number' ? minutes : 0;
  return formatNumber(value, Number.isInteger(value) ? 0 : 1);
}

/** Some entries in a sentence's tail, so many at most. */
export function describeEntries(entries: readonly LogEntry[], nameOf: (technique: string) => string): string {
  const most = 3;
  const shown = entries.slice(0, most).map((entry) => describeEntry(entry, nameOf));
  const rest = entries.length - shown.length;
  return rest > 0
    ? `${shown.join('; ')}; and ${formatCount(rest, 'more entry', 'more entries')}`
    : shown.join('; ');
}
