import { platform } from 'node:process';
import { systemClock, type Clock } from '../../journal/clock.ts';
import { stateFolder } from '../../journal/journalPaths.ts';
import { openJournal, type Journal } from '../../journal/journal.ts';
import { nearest } from '../../text/closestWord.ts';
import type { Request } from '../terminal/arguments.ts';
import { exit, tell, type Io } from '../terminal/io.ts';
import { knownTarget, placeOf, type LogTarget } from './logTarget.ts';
import { logNow } from './logLive.ts';
import { readLogRequest, type LogRequest } from './logRequest.ts';

/** What logging works with. */
export interface LogPlace {
  readonly io: Io;
  readonly request: Request;
  readonly target: LogTarget;
  /** Journal of the practice file. */
  readonly journal: Journal;
  readonly clock: Clock;
  /** Folder of what the tool keeps. */
  readonly state: string;
  readonly json: boolean;
}

/**
 * `routewright log`: attempts, blocks and runs. Returns the exit code. Whatever reads routes is loaded only where it
 * is needed: a key press is to be answered at once.
 *
 * @param clock the time, set by tests
 */
export async function log(request: Request, io: Io, clock: Clock = systemClock): Promise<number> {
  const asked = readLogRequest(request);
  if (typeof asked === 'string') {
    tell(io, asked);
    return exit.wrong;
  }
  const state = stateFolder(io.env, platform);
  const target = await targetFor(asked, request, io, state);
  if ('message' in target) {
    tell(io, target.message);
    return exit.wrong;
  }
  const { technique } = asked;
  const today =
    technique === undefined
      ? undefined
      : Object.entries(target.techniques).find(([id]) => id === technique)?.[1];
  if (technique !== undefined && today === undefined) {
    const meant = nearest(technique, Object.keys(target.techniques));
    tell(
      io,
      `The route has no technique ${technique}.${meant ? ` Did you mean ${meant}?` : ''} Nothing was logged.`,
    );
    return exit.wrong;
  }
  const journal = openJournal(target.practice, { state, clock });
  if ('reason' in journal) {
    tell(io, `${target.practice} cannot be opened: ${journal.reason}. Nothing was logged.`);
    return exit.wrong;
  }
  const place: LogPlace = { io, request, target, journal, clock, state, json: request.switches.has('json') };
  const { action } = asked;
  // Before a sitting, and when somebody asks; not at every press of a key.
  if (action.kind === 'start' || action.kind === 'fold')
    (await import('./waiting.ts')).tellLeftBehind(io, state, clock.now());
  try {
    switch (action.kind) {
      case 'attempt':
      case 'start':
      case 'end':
        return await logNow(place, action, today);
      case 'undo':
        return await (await import('./logUndo.ts')).logUndo(place, today);
      case 'moved':
        return await (await import('./logMovedFile.ts')).logMoved(place, action.from);
      case 'fold':
        return await (await import('./fold.ts')).logFold(place);
      case 'block':
        return await (await import('./logEntry.ts')).logBlock(place, action, today!);
      case 'run':
        return await (await import('./logRun.ts')).logRun(place);
      case 'import':
        return await (await import('./importTable.ts')).logImport(place, action.file);
    }
  } finally {
    journal.close();
  }
}

async function targetFor(
  { technique, place }: LogRequest,
  { values }: Request,
  io: Io,
  state: string,
): Promise<LogTarget | { readonly message: string }> {
  const runner = values.get('runner');
  const known = knownTarget(state, placeOf(io.cwd, place, runner));
  // A name that is not known is looked for in the files again before it is called unknown.
  if (known && (technique === undefined || Object.hasOwn(known.techniques, technique))) return known;
  return (await import('./findTarget.ts')).findTarget(io, state, place, runner);
}
