import { cpSync, existsSync, readFileSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { flushToDisk } from '../../server/src/journal/flush.ts';
import { openJournal, type Journal } from '../../server/src/journal/journal.ts';
import {
  orphanedJournalFolder,
  orphanedJournals,
  adoptJournal,
} from '../../server/src/journal/orphanedJournals.ts';
import { attempt, bench, end, sure, undo, type Bench } from './place.ts';

/** A file that is renamed while its journal holds a block in the file, one that was taken back from, and one that waits. */
async function renamed(): Promise<{ at: Bench; journal: Journal; from: string }> {
  const at = bench();
  const { clock, journal, folder, state } = at;
  const first = [attempt(clock, 'b-1'), attempt(clock, 'b-1', false)];
  journal.append(...first, end(clock, 'b-1'));
  sure(await flushToDisk(journal, { dayStarts: 240 }));
  clock.pass(60);
  journal.append(undo(clock, first[1]!.id));
  clock.pass(60);
  journal.append(
    attempt(clock, 'b-2'),
    attempt(clock, 'b-2'),
    attempt(clock, 'b-2', false),
    end(clock, 'b-2'),
  );
  journal.close();
  renameSync(at.path, join(folder, 'autumn.practice.yaml'));
  const now = sure(openJournal(join(folder, 'autumn.practice.yaml'), { state, clock }));
  return { at, journal: now, from: orphanedJournalFolder(state, at.path)! };
}

/** Tapes of the blocks in the file that it is now. */
function tapesIn({ path }: Journal): (string | undefined)[] {
  return [...readFileSync(path, 'utf8').matchAll(/tape: ([lm]+)/g)].map(([, tape]) => tape);
}

test('it is found with what waits, and taken over with what was taken back', async () => {
  const { at, journal, from } = await renamed();
  expect(orphanedJournals(at.state, at.clock.now())).toEqual([
    { path: at.path, folder: from, waiting: { attempts: 3, blocks: 0, runs: 0, open: false } },
  ]);
  sure(await adoptJournal(from, journal));
  expect(existsSync(from)).toBe(false);
  expect(orphanedJournals(at.state, at.clock.now())).toEqual([]);
  sure(await flushToDisk(journal, { dayStarts: 240 }));
  expect(tapesIn(journal)).toEqual(['l', 'llm']);
});

test('interrupted before the old journal was cleared away and done again: nothing is doubled', async () => {
  const { at, journal, from } = await renamed();
  const copy = join(at.folder, 'copy');
  cpSync(from, copy, { recursive: true });
  sure(await adoptJournal(from, journal));
  sure(await flushToDisk(journal, { dayStarts: 240 }));
  cpSync(copy, from, { recursive: true });
  sure(await adoptJournal(from, journal));
  sure(await flushToDisk(journal, { dayStarts: 240 }));
  expect(tapesIn(journal)).toEqual(['l', 'llm']);
  const { state } = sure(journal.pending());
  expect(state.open).toEqual([]);
  expect([...state.sealed.values()].filter((one) => one.state === 'sealed')).toEqual([]);
});
