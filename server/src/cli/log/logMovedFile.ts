import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileKindOf } from '../../files/fileKind.ts';
import { isFailure } from '../../journal/failure.ts';
import { orphanedJournalFolder, adoptJournal } from '../../journal/orphanedJournals.ts';
import { exitCodes, printNotice } from '../terminal/io.ts';
import { shellWord } from '../terminal/shellWord.ts';
import type { LogContext } from './logContext.ts';
import { logFlush } from './flush.ts';
import { reportLeftBehind } from './reportLeftBehind.ts';
import { openRunsJournal } from './runsJournal.ts';

/** Puts entries into a log that wait in the journal of its former name or place. Returns the exit code. */
export async function logMovedFile(context: LogContext, written: string): Promise<number> {
  const { io, state, clock } = context;
  const wrong = (sentence: string): number => {
    printNotice(io, `${sentence} Nothing was moved.`);
    return exitCodes.wrong;
  };
  const path = resolve(io.cwd, written);
  const kind = fileKindOf(path);
  if (kind !== 'practice' && kind !== 'runs')
    return wrong(`--moved-from needs the former name of a practice or runs file, not ${written}.`);
  if (existsSync(path))
    return wrong(
      `${written} is there: what waits for it goes into it with: routewright log ${shellWord(written)}`,
    );
  const from = orphanedJournalFolder(state, path);
  if (from === undefined) {
    reportLeftBehind(io, state, clock.now());
    return wrong(`No journal is kept for ${written}.`);
  }
  const journal = kind === 'practice' ? context.journal : openRunsJournal(context);
  if ('message' in journal) return wrong(journal.message);
  try {
    const moved = await adoptJournal(from, journal);
    if (isFailure(moved)) return wrong(`The journal of ${written} cannot be moved: ${moved.reason}.`);
    return await logFlush({ ...context, journal });
  } finally {
    if (journal !== context.journal) journal.close();
  }
}
