import { existsSync } from 'node:fs';
import { closestWord } from '../../text/closestWord.ts';
import { formatTime, parseTime } from '../../text/time.ts';
import { newEntryId, openJournal, type Journal } from '../../journal/journal.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import { exitCodes, printNotice } from '../terminal/io.ts';
import type { LogContext } from './log.ts';
import { createLogFile } from './findTarget.ts';
import { logEntry } from './logEntry.ts';
import type { LogTarget } from './logTarget.ts';

/** Logs one run: its total or its times, what was tried, where it ended. Returns the exit code. */
export async function logRun(place: LogContext): Promise<number> {
  const { io, request, target, clock, state } = place;
  const entry = runEntry(request.values, request.lists, target);
  if (typeof entry === 'string') {
    printNotice(io, `${entry} Nothing was logged.`);
    return exitCodes.wrong;
  }
  const journal = runsJournal(target, state, place);
  if ('message' in journal) {
    printNotice(io, `${journal.message} Nothing was logged.`);
    return exitCodes.wrong;
  }
  const seconds = runSeconds(entry);
  const start = request.values.get('at')?.replace(' ', 'T') ?? clock.local(clock.now() - seconds * 1000);
  const id = newEntryId('run', journal.newId);
  try {
    const code = await logEntry(place, journal, 'run', start, { start, ...entry }, { id });
    if (code === exitCodes.fine && !place.json)
      await (await import('./runChange.ts')).printRunChange(place, id);
    return code;
  } finally {
    journal.close();
  }
}

/** The journal of the runs file, which is begun where there is none. */
export function runsJournal(
  target: LogTarget,
  state: string,
  { clock, request }: Pick<LogContext, 'clock' | 'request'>,
): Journal | { readonly message: string } {
  if (!existsSync(target.runs)) {
    const message = createLogFile(target.runs, target.route, request.values.get('runner'));
    if (message !== undefined) return { message };
  }
  const journal = openJournal(target.runs, { state, clock });
  return 'reason' in journal ? { message: `${target.runs} cannot be opened: ${journal.reason}.` } : journal;
}

function runSeconds({ total, times }: LogEntry): number {
  if (typeof total === 'string') return parseTime(total) ?? 0;
  const parts = typeof times === 'object' && times !== null ? Object.values(times) : [];
  return parts.reduce((sum: number, part) => sum + (parseTime(String(part)) ?? 0), 0);
}

/** A run as it is to stand in the file, or a sentence about what cannot be read. */
function runEntry(
  values: ReadonlyMap<string, string>,
  lists: ReadonlyMap<string, readonly string[]>,
  target: LogTarget,
): LogEntry | string {
  const total = values.get('total');
  if (total !== undefined && parseTime(total) === undefined)
    return `--total needs a time such as 41:30.2, not ${total}.`;
  const times: Record<string, string> = {};
  for (const part of lists.get('times') ?? []) {
    const [id = '', written = ''] = part.split('=');
    if (parseTime(written) === undefined)
      return `--times needs a segment and its time, such as harbor=1:31.8, not ${part}.`;
    if (!target.segments.includes(id)) return unknown('segment', id, target.segments);
    times[id] = timeText(written);
  }
  const tried: Record<string, readonly [number, number]> = {};
  for (const part of lists.get('tried') ?? []) {
    const read = triedOf(part, target);
    if (typeof read === 'string') return read;
    tried[read.name] = read.counts;
  }
  const ended = values.get('ended');
  const ending = ended === undefined ? undefined : endingOf(ended, target);
  if (typeof ending === 'string') return ending;
  if (total === undefined && ending === undefined && Object.keys(times).length === 0)
    return 'Of a run, say its --total, its --times or where it --ended.';
  const on = values.get('on');
  return {
    ...(total !== undefined && { total: timeText(total) }),
    ...(Object.keys(times).length > 0 && { times }),
    ...(Object.keys(tried).length > 0 && { tried }),
    ...(ending && { ended: ending }),
    ...(on !== undefined && { on }),
  };
}

/** `crate-vault` landed once, `crate-vault=0/1` or `crate-vault@second=1/2`. */
export function triedOf(
  part: string,
  target: LogTarget,
): { readonly name: string; readonly counts: readonly [number, number] } | string {
  const match = /^([^=]+)=(\d+)\/(\d+)$/.exec(part);
  const [landed, tries] = [Number(match?.[2]), Number(match?.[3])];
  if (!match || landed > tries)
    return `--tried needs a technique, landed and tries, such as crate-vault=1/2, not ${part}.`;
  const [technique = '', use] = match[1]!.split('@');
  const id = Object.entries(target.techniques).find(([written]) => written === technique)?.[1];
  if (id === undefined) return unknown('technique', technique, Object.keys(target.techniques));
  return { name: use === undefined ? id : `${id}@${use}`, counts: [landed, tries] };
}

/** `harbor:reset`, or `harbor:miss:crate-vault`. */
export function endingOf(written: string, target: LogTarget): LogEntry | string {
  const [at = '', why = '', by, ...more] = written.split(':');
  if (!['miss', 'death', 'reset'].includes(why) || more.length > 0)
    return `--ended needs a segment and why, such as harbor:reset or harbor:miss:crate-vault, not ${written}.`;
  if (!target.segments.includes(at)) return unknown('segment', at, target.segments);
  if (by === undefined) return { at, why };
  const id = Object.entries(target.techniques).find(([name]) => name === by)?.[1];
  return id === undefined ? unknown('technique', by, Object.keys(target.techniques)) : { at, why, by: id };
}

function unknown(what: string, id: string, known: readonly string[]): string {
  const meant = closestWord(id, known);
  return `The route has no ${what} ${id}.${meant ? ` Did you mean ${meant}?` : ''}`;
}

/** A time as it was written; a bare number of seconds as a clock shows it, since a number is no text. */
export function timeText(written: string): string {
  const seconds = parseTime(written) ?? 0;
  return written.includes(':') || seconds < 60 ? written : formatTime(seconds);
}
