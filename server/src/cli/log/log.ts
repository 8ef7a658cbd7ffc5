import { platform } from 'node:process';
import { systemClock, type Clock } from '../../journal/clock.ts';
import { stateFolder } from '../../journal/journalPaths.ts';
import { openJournal } from '../../journal/journal.ts';
import { knownTechnique, techniqueCalled } from '../../logging/logVocabulary.ts';
import type { Request } from '../terminal/arguments.ts';
import { exitCodes, printNotice, type Io } from '../terminal/io.ts';
import { rememberLast } from './lastUsed.ts';
import { placesFrom, targetKey, validCachedTarget, type LogTarget } from './logTarget.ts';
import type { LogContext } from './logContext.ts';
import { logLive } from './logLive.ts';
import { parseLogRequest, type LogRequest } from './logRequest.ts';

/**
 * `routewright log`: attempts, blocks and runs. Returns the exit code. Code that reads routes is loaded only where it
 * is needed, because a key press must be answered at once.
 *
 * @param clock the time; tests set it
 */
export async function log(request: Request, io: Io, clock: Clock = systemClock): Promise<number> {
  const parsed = await parseLogRequest(request, placesFrom(io.cwd));
  if (typeof parsed === 'string') {
    printNotice(io, parsed);
    return exitCodes.wrong;
  }
  const state = stateFolder(io.env, platform);
  const target = await targetFor(parsed, request, io, state);
  if ('message' in target) {
    printNotice(io, target.message);
    return exitCodes.wrong;
  }
  const { technique } = parsed;
  const today = technique === undefined ? undefined : knownTechnique(technique, target);
  if (typeof today === 'object') {
    printNotice(io, `${today.problem} Nothing was logged.`);
    return exitCodes.wrong;
  }
  const journal = openJournal(target.practice, { state, clock });
  if ('reason' in journal) {
    printNotice(io, `${target.practice} cannot be opened: ${journal.reason}. Nothing was logged.`);
    return exitCodes.wrong;
  }
  const context: LogContext = {
    io,
    request,
    target,
    journal,
    clock,
    state,
    json: request.switches.has('json'),
  };
  const { action } = parsed;
  // At the start of a block and at a bare `log`; not at every key press.
  if (action.kind === 'start' || action.kind === 'flush')
    (await import('./reportLeftBehind.ts')).reportLeftBehind(io, state, clock.now());
  try {
    switch (action.kind) {
      case 'attempt':
      case 'start':
      case 'end':
        return await logLive(context, action, today);
      case 'undo':
        return await (await import('./logUndo.ts')).logUndo(context, today);
      case 'moved':
        return await (await import('./logMovedFile.ts')).logMovedFile(context, action.from);
      case 'flush':
        return await (await import('./flush.ts')).logFlush(context);
      case 'block':
        return await (await import('./logEntry.ts')).logBlock(context, action, today!);
      case 'run':
        return await (await import('./logRun.ts')).logRun(context);
      case 'import':
        return await (await import('./importTable.ts')).logImport(context, action.file);
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
  const cached = validCachedTarget(state, targetKey(io.cwd, place, runner));
  // Where the cached target does not know the technique, the files are read again: it may be new.
  const isCached = cached && (technique === undefined || techniqueCalled(technique, cached) !== undefined);
  const target = isCached
    ? cached
    : await (await import('./findTarget.ts')).findTarget(io, state, place, runner);
  if (place !== undefined && !('message' in target))
    rememberLast(state, io.cwd, place, runner, target.practice);
  return target;
}
