import { fileKindOf } from '../../files/fileKind.ts';
import { isFailure } from '../../journal/failure.ts';
import { flushToDisk, type FlushResult } from '../../journal/flush.ts';
import type { Journal } from '../../journal/journal.ts';
import { describeEntry } from '../../logging/describeEntry.ts';
import { nameAmong, techniqueName, type NameOf } from '../../logging/logVocabulary.ts';
import { formatCount } from '../../text/format.ts';
import { exitCodes, printJson, printLines, printNotice, type Io } from '../terminal/io.ts';
import type { LogContext } from './logContext.ts';
import type { LogTarget } from './logTarget.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';

/**
 * Puts finished entries into the file after something was logged, and prints what was done. Returns the exit code for
 * success: what was logged is safe in any case.
 */
export async function flushAfterLogging({ io, journal, target, json }: LogContext): Promise<number> {
  const sentences = await flushToSentences(io, journal, target);
  for (const sentence of sentences) printOutcome(io, json, sentence);
  return exitCodes.fine;
}

/** Prints what was done after the answer. With `--json`, stdout holds one document only, which was printed already. */
export function printOutcome(io: Io, json: boolean, sentence: string): void {
  if (json) printNotice(io, sentence);
  else printLines(io, [sentence]);
}

/** `log` with nothing to log: puts finished entries into the file, and prints what waits in the journal. */
export async function logFlush({ io, journal, target, json }: LogContext): Promise<number> {
  const sentences = await flushToSentences(io, journal, target);
  const pending = journal.pending();
  if (isFailure(pending)) {
    printNotice(io, `The journal in ${journal.folder} cannot be read: ${pending.reason}.`);
    return exitCodes.wrong;
  }
  const { open, sealed } = pending.state;
  const unfolded = [...sealed.values()].filter(({ state }) => state === 'sealed').length;
  if (json) {
    const waiting = open.map(({ id, technique, landed, attempts }) => ({
      id,
      technique: technique ?? null,
      landed,
      tries: attempts.length,
    }));
    printJson(io, {
      file: relativeNames(io.cwd)(uriOf(journal.path)),
      waiting,
      unfolded,
      torn: pending.torn,
    });
    return exitCodes.fine;
  }
  const waiting = open.map(
    ({ technique, landed, attempts }) =>
      `${techniqueName(target, technique) ?? 'Entry'}: ${landed} of ${attempts.length} landed, in the journal.`,
  );
  const torn =
    pending.torn > 0 ? [`Passed over: ${formatCount(pending.torn, 'torn line')}, never acknowledged.`] : [];
  const all = [...sentences, ...waiting, ...torn];
  printLines(io, all.length > 0 ? all : ['Nothing waits in the journal.']);
  return exitCodes.fine;
}

/** Puts finished entries into the file, and gives sentences about what was done. */
export async function flushToSentences(
  io: Io,
  journal: Journal,
  target: Pick<LogTarget, 'dayStarts' | 'names'>,
): Promise<string[]> {
  const file = relativeNames(io.cwd)(uriOf(journal.path));
  const told: string[] = [];
  const tell = (sentence: string) => void told.push(sentence);
  const result = await flushToDisk(journal, { dayStarts: target.dayStarts, tell });
  if (result === undefined)
    return [...told, `${file} is open in an editor, which takes it up from the journal.`];
  if (isFailure(result))
    return [
      ...told,
      `${file} is left as it is: ${result.reason}. What was logged is safe in the journal and goes in next time.`,
    ];
  return [...sentencesOf(result, file, nameAmong(target)), ...told];
}

function sentencesOf({ entries, plan }: FlushResult, file: string, nameOf: NameOf): string[] {
  const added = entries.map(({ entry }) => `Into ${file}: ${describeEntry(entry, nameOf)}.`);
  const few = 5;
  const shown =
    added.length > few ? [`Into ${file}: ${formatCount(added.length, 'entry', 'entries')}.`] : added;
  if (!plan) return shown;
  const what = fileKindOf(file) === 'runs' ? 'run' : 'block';
  const lines = (ids: readonly string[], rest: string) =>
    ids.length > 0 ? [`${formatCount(ids.length, what)} in ${file} ${rest}`] : [];
  return [
    ...shown,
    ...lines(plan.shortened, 'shortened by what was taken back.'),
    ...lines(plan.removed, 'taken out again.'),
    ...lines(plan.handEdited, 'edited by hand since, and left as it stands: take out by hand what is to go.'),
    ...lines(plan.dropped, 'taken out by hand before, and left out.'),
  ];
}
