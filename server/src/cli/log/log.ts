import { platform } from 'node:process';
import { systemClock, type Clock } from '../../journal/clock.ts';
import { stateFolder } from '../../journal/journalPaths.ts';
import { openJournal, type Journal } from '../../journal/journal.ts';
import { closestWord } from '../../text/closestWord.ts';
import type { Request } from '../terminal/arguments.ts';
import { exitCodes, printNotice, type Io } from '../terminal/io.ts';
import { validCachedTarget, targetKey, type LogTarget } from './logTarget.ts';
import { logLive } from './logLive.ts';
import { parseLogRequest, type LogRequest } from './logRequest.ts';

/** What logging works with. */
export interface LogContext {
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
  const asked = parseLogRequest(request);
  if (typeof asked === 'string') {
    printNotice(io, asked);
    return exitCodes.wrong;
  }
  const state = stateFolder(io.env, platform);
  const target = await targetFor(asked, request, io, state);
  if ('message' in target) {
    printNotice(io, target.message);
    return exitCodes.wrong;
  }
  const { technique } = asked;
  const today =
    technique === undefined
      ? undefined
      : Object.entries(target.techniques).find(([id]) => id === technique)?.[1];
  if (technique !== undefined && today === undefined) {
    const meant = closestWord(technique, Object.keys(target.techniques));
    printNotice(
      io,
      `The route has no technique ${technique}.${meant ? ` Did you mean ${meant}?` : ''} Nothing was logged.`,
    );
    return exitCodes.wrong;
  }
  const journal = openJournal(target.practice, { state, clock });
  if ('reason' in journal) {
    printNotice(io, `${target.practice} cannot be opened: ${journal.reason}. Nothing was logged.`);
    return exitCodes.wrong;
  }
  const place: LogContext = {
    io,
    request,
    target,
    journal,
    clock,
    state,
    json: request.switches.has('json'),
  };
  const { action } = asked;
  // Before a sitting, and when somebody asks; not at every press of a key.
  if (action.kind === 'start' || action.kind === 'fold')
    (await import('./waiting.ts')).reportLeftBehind(io, state, clock.now());
  try {
    switch (action.kind) {
      case 'attempt':
      case 'start':
      case 'end':
        return await logLive(place, action, today);
      case 'undo':
        return await (await import('./logUndo.ts')).logUndo(place, today);
      case 'moved':
        return await (await import('./logMovedFile.ts')).logMovedFile(place, action.from);
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
  const known = validCachedTarget(state, targetKey(io.cwd, place, runner));
  // A name that is not known is looked for in the files again before it is called unknown.
  if (known && (technique === undefined || Object.hasOwn(known.techniques, technique))) return known;
  return (await import('./findTarget.ts')).findTarget(io, state, place, runner);
}
