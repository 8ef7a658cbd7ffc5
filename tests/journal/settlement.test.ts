import { describe, expect, test } from 'vitest';
import type { JournalLine, SealLine } from '../../server/src/journal/journalLines.ts';
import { buildJournalState } from '../../server/src/journal/journalState.ts';
import type { LogJournal } from '../../server/src/journal/logJournal.ts';
import { editorJournals } from '../../server/src/journal/editorJournals.ts';
import { isFailure } from '../../server/src/journal/failure.ts';
import { settlementMarks, settleSaved } from '../../server/src/journal/settlement.ts';
import { storageJournals } from '../../server/src/journal/storageJournals.ts';
import { pathToFileURL } from 'node:url';
import { bench } from './place.ts';

const empty = 'route: a.route.yaml\nsessions: []\n';

/** A sealed block of one attempt. */
function seal(block: string, more: Partial<SealLine> = {}): SealLine {
  return {
    ...{ kind: 'seal', id: `s-${block}`, at: 1, block, local: '2026-10-05T19:30', last: 1, undone: [] },
    entry: { technique: 'crate-vault', minutes: 1, tape: 'l' },
    attempts: [`a-${block}`],
    ...more,
  };
}

describe('what becomes of an entry that waits, once a file is saved', () => {
  test.each<[string, Partial<SealLine>, { inText: boolean; applied: boolean }, string]>([
    ['in the text', {}, { inText: true, applied: true }, 'saved'],
    ['in the text, put there by another program', {}, { inText: true, applied: false }, 'saved'],
    ['not put into the text yet', {}, { inText: false, applied: false }, 'waiting'],
    ['put into the text, and taken out by the user', {}, { inText: false, applied: true }, 'dropped'],
    ['once in a saved file, and no more', { known: true }, { inText: false, applied: false }, 'dropped'],
    ['taken back, but still in the text', { gone: true }, { inText: true, applied: true }, 'waiting'],
    ['taken back, and not in the text', { gone: true }, { inText: false, applied: false }, 'dropped'],
  ])('%s', (_, more, { inText, applied }, outcome) => {
    const state = buildJournalState([[seal('b-1', more)]], 2);
    const ids = new Set(['b-1']);
    const none = new Set<string>();
    const settlement = settleSaved(state, inText ? ids : none, applied ? ids : none);
    const lists = Object.entries(settlement).filter(([, seals]) => (seals as SealLine[]).length > 0);
    expect(lists.map(([name]) => name)).toEqual([outcome]);
  });

  test('each entry is in one list, and is not settled a second time', () => {
    const lines: JournalLine[] = ['b-1', 'b-2', 'b-3'].map((block) => seal(block));
    const settlement = settleSaved(buildJournalState([lines], 2), new Set(['b-1']), new Set(['b-1', 'b-2']));
    let made = 0;
    const marks = settlementMarks(settlement, 3, () => `m-${made++}`);
    expect(marks.map(({ kind, block }) => [kind, block])).toEqual([
      ['saved', 'b-1'],
      ['dropped', 'b-2'],
    ]);
    const after = settleSaved(buildJournalState([[...lines, ...marks]], 4), new Set(['b-1']), new Set());
    expect(after.saved).toEqual([]);
    expect(after.dropped).toEqual([]);
    expect(after.waiting.map(({ block }) => block)).toEqual(['b-3']);
  });
});

describe('on the disk and in a client’s storage the same happens', () => {
  const kept = new Map<string, string>();
  const storage = storageJournals({
    save: (uri, text) => Promise.resolve(kept.set(uri, text) && null),
    load: (uri) => Promise.resolve(kept.get(uri) ?? null),
  });

  async function open(where: 'disk' | 'storage'): Promise<LogJournal> {
    const at = bench(empty);
    const journal =
      where === 'disk'
        ? await editorJournals(at.state).open(pathToFileURL(at.path).toString())
        : await storage.open(`web:/${at.path}`);
    if (isFailure(journal)) throw new Error(journal.reason);
    return journal;
  }

  async function block(journal: LogJournal, id: string): Promise<void> {
    const at = journal.clock.now();
    const local = '2026-10-05T19:30';
    const entry = { technique: 'crate-vault', minutes: 1 };
    expect(await journal.append({ kind: 'entry', id, at, local, entry })).toBeUndefined();
  }

  test.each(['disk', 'storage'] as const)('%s', async (where) => {
    const journal = await open(where);
    const applied = new Set<string>();
    const planned = async (text: string) => {
      const plan = await journal.planFlush(text, { dayStarts: 240, applied });
      if (!('edits' in plan)) throw new Error('no plan');
      for (const id of plan.added) applied.add(id);
      return plan;
    };
    await block(journal, 'b-1');
    await block(journal, 'b-2');
    const first = await planned(empty);
    expect(first.added).toEqual(['b-1', 'b-2']);
    // Nothing is let go of before the saved text holds it.
    expect(journal.lines()).not.toEqual([]);
    // The user takes the second one out and saves: it stays out.
    const saved = first.text.replace(/\n[^\n]*b-2[^\n]*/, '');
    expect((await planned(saved)).added).toEqual([]);
    await journal.confirmSaved(saved, applied);
    expect((await planned(saved)).edits).toEqual([]);
    await block(journal, 'b-3');
    const third = await planned(saved);
    expect(third.added).toEqual(['b-3']);
    expect(third.text.match(/b-1/g)).toHaveLength(1);
    expect(third.text).not.toContain('b-2');
    journal.close();
  });
});
