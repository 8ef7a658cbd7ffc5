import { basename } from 'node:path';
import {
  discardOld,
  isInPlace,
  keepOld,
  lateBytes,
  replaceFile,
  type ReplacedFile,
} from '../disk/replaceFile.ts';
import { keptNotices, notKeptNotices } from '../disk/replaceText.ts';
import { readSettled, staysAs } from '../disk/standingFile.ts';
import { syncFile } from '../disk/sync.ts';
import { toFailure, type Failure } from './failure.ts';
import type { Journal } from './journal.ts';
import type { SealLine } from './journalLines.ts';
import type { CheckLock } from './lock.ts';
import type { FlushPlan } from './planFlush.ts';
import { planText } from './planText.ts';
import { logKindOf } from './settlement.ts';

/** So often a file that other programs write to at the same time is begun again with. */
const mostRounds = 12;

export interface WriteOptions {
  /** Minutes after midnight at which the runner's day begins. */
  readonly dayStarts: number;
  readonly check: CheckLock;
  /** Told in sentences what a person has to see to. */
  readonly tell: (sentence: string) => void;
}

/**
 * Puts sealed entries into the file of a journal. When this returns a plan, the file holds them and is on the disk, and
 * no other program has written over them. Whatever another program writes to the file meanwhile stays in it: the plan
 * is then made again, from what that program wrote. What can be in no file any more is kept beside it.
 *
 * @returns what was done, or why it could not be; throws what the system says
 */
export async function writeEntries(
  journal: Journal,
  seals: readonly SealLine[],
  { dayStarts, check, tell }: WriteOptions,
): Promise<FlushPlan | Failure> {
  const { path, clock } = journal;
  const name = basename(path);
  const done: FlushPlan[] = [];
  // The file that was replaced last, where a program went on writing to it, and what it wrote.
  let late: { readonly bytes: Buffer; readonly replaced: ReplacedFile } | undefined;
  let failure: Failure = { code: '', reason: 'another program keeps writing to it' };
  const keepLate = () => {
    if (late) keptNotices(name, keepOld(late.replaced)).forEach(tell);
    late = undefined;
  };
  for (let round = 0; round < mostRounds; round++) {
    const standing = await readSettled(path, clock.pause);
    // Two edits of one text: the one that has the name stays, the other is kept.
    if (late && !standing.bytes.equals(late.replaced.bytes)) keepLate();
    const plan = planFor(path, late?.bytes ?? standing.bytes, seals, dayStarts);
    if ('reason' in plan) {
      if (late) {
        keepLate();
        continue;
      }
      failure = plan;
      if (await staysAs(standing, clock.pause)) return plan;
      continue;
    }
    if (standing.bytes.equals(Buffer.from(plan.text, 'utf8'))) {
      if (late) discardOld(late.replaced);
      // Whoever wrote it may not have waited for the disk.
      syncFile(path);
      return summary(done, plan);
    }
    const replaced = replaceFile(standing, plan.text, check);
    if (!('bytes' in replaced)) {
      keptNotices(name, replaced.keptAs).forEach(tell);
      continue;
    }
    done.push(plan);
    if (late) discardOld(late.replaced);
    late = undefined;
    notKeptNotices(name, replaced.notKept).forEach(tell);
    const bytes = await lateBytes(replaced, clock.pause);
    if (bytes) {
      late = { bytes, replaced };
      continue;
    }
    discardOld(replaced);
    if (isInPlace(replaced)) return summary(done, plan);
  }
  keepLate();
  return failure;
}

function planFor(
  path: string,
  bytes: Buffer,
  seals: readonly SealLine[],
  dayStarts: number,
): FlushPlan | Failure {
  // Programs that write in place empty a file first. Whatever was put into that would stand alone in it.
  if (bytes.length === 0)
    return {
      code: '',
      reason: 'it is empty; unless another program is writing it now, it needs its line `route:`',
    };
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (error) {
    return toFailure(error);
  }
  const plan = planText(logKindOf(path), text, seals, dayStarts);
  return 'problem' in plan ? { code: '', reason: plan.problem } : plan;
}

/** The last plan, with all that was done before it. */
function summary(done: readonly FlushPlan[], last: FlushPlan): FlushPlan {
  const all = (list: 'added' | 'shortened' | 'removed') => [
    ...new Set([...done, last].flatMap((plan) => plan[list])),
  ];
  return { ...last, added: all('added'), shortened: all('shortened'), removed: all('removed') };
}
