import { appendFileSync, readdirSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { flushToDisk } from '../../server/src/journal/flush.ts';
import { encodeLine, type EntryLine } from '../../server/src/journal/journalLines.ts';
import { readJournal } from '../../server/src/journal/journalStore.ts';
import { bytesRead } from '../helpers/bytesRead.ts';
import { Desk, empty, started } from '../helpers/desk.ts';
import { attempt, bench, end, start, sure, undo, type Bench } from './place.ts';

const night = { dayStarts: 240 };
const week = 7 * 24 * 3600;

/** Entries that were logged whole, as an import writes them. */
function entries({ clock }: Bench, count: number, name = 'b', after = '', notes = 'some'): EntryLine[] {
  return Array.from({ length: count }, (_, at): EntryLine => {
    const local = `${2016 + Math.floor(at / 400)}-0${1 + (at % 9)}-1${at % 10}T19:30`;
    const entry = { technique: 'crate-vault', minutes: 20, notes: `${at} ${notes}` };
    return {
      kind: 'entry',
      id: `${name}-${at}`,
      at: clock.now(),
      local,
      entry,
      after,
      batch: `i-${name}`,
    };
  });
}

async function logAll(at: Bench, count: number, name?: string, notes?: string): Promise<void> {
  const last = sure(at.journal.pending()).state.lastLogged()?.id;
  expect(at.journal.append(...entries(at, count, name, last, notes))).toBeUndefined();
  sure(await flushToDisk(at.journal, night));
}

/** A block of one attempt, ended and in the file. */
async function logBlock(at: Bench, id: string): Promise<void> {
  at.clock.pass(60);
  expect(at.journal.append(start(at.clock, id), attempt(at.clock, id), end(at.clock, id))).toBeUndefined();
  sure(await flushToDisk(at.journal, night));
}

const archives = ({ journal }: Bench) =>
  readdirSync(journal.folder).filter((name) => name.startsWith('settled-'));
const sizeOf = ({ journal }: Bench) =>
  readdirSync(journal.folder).reduce((sum, name) => sum + statSync(join(journal.folder, name)).size, 0);

describe('what is read of a journal at an entry', () => {
  test('does not grow with what was logged before', async () => {
    const read: number[] = [];
    for (const count of [10, 1_000, 5_000]) {
      const at = bench();
      await logAll(at, count);
      const { bytes } = await bytesRead(
        (path) => path.startsWith(at.journal.folder),
        () => logBlock(at, 'b-new'),
      );
      read.push(bytes);
      expect(at.text().match(/b-new/g)).toHaveLength(1);
    }
    // The last entries, which stay, are read a few times over; the log file of 5,000 has 400 kB.
    expect(Math.max(...read)).toBeLessThan(100_000);
    expect(read[2]! - read[1]!).toBeLessThan(20_000);
  });

  test('does not grow with a table that was imported while a block was open', async () => {
    const at = bench();
    at.journal.append(start(at.clock, 'b-open'), attempt(at.clock, 'b-open'));
    await logAll(at, 1_000);
    const { bytes, result } = await bytesRead(
      (path) => path.startsWith(at.journal.folder),
      () => at.journal.pending(),
    );
    expect(bytes).toBeLessThan(40_000);
    expect(sure(result).state.open.map(({ id }) => id)).toEqual(['b-open']);
  });
});

test('over the years a journal does not grow, and undo still knows the last entries', async () => {
  const at = bench();
  const sizes: number[] = [];
  for (let month = 0; month < 30; month++) {
    await logAll(at, 40, `m${month}`, 'word '.repeat(200));
    at.clock.pass(4.3 * week);
    sizes.push(sizeOf(at));
  }
  // The entries of a month take up 50 kB.
  expect(Math.max(...sizes)).toBeLessThan(400_000);
  expect(sizes.at(-1)! - sizes[20]!).toBeLessThan(50_000);
  expect(sure(at.journal.pending('all')).state.lastLogged()).toMatchObject({ id: 'i-m29', imported: true });
  expect(archives(at)).toHaveLength(1);
});

describe('an entry in the archive', () => {
  test('is the same for all that asks for it, and in its order', async () => {
    const at = bench();
    await logAll(at, 500);
    const { state } = sure(at.journal.pending('all'));
    expect([...state.sealed.keys()]).toEqual(entries(at, 500).map(({ id }) => id));
    expect([...state.sealed.values()].every((one) => one.state === 'saved')).toBe(true);
    expect(sure(at.journal.pending()).state.sealed.size).toBeLessThan(30);
  });

  test('is not put into the file again when its line is written again, also where the user took it out', async () => {
    const at = bench();
    await logAll(at, 500);
    expect(archives(at)).toHaveLength(1);
    writeFileSync(at.path, empty);
    // As a writer does whose file was put aside while it wrote.
    at.journal.append(...entries(at, 500).slice(7, 9));
    expect(sure(at.journal.pending()).state.open).toEqual([]);
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toBe(empty);
  });

  test('does not swallow an attempt that comes in late for it', async () => {
    const at = bench();
    await logBlock(at, 'b-paused');
    await logAll(at, 500);
    const late = [attempt(at.clock, 'b-paused', false), attempt(at.clock, 'b-paused', false)];
    at.journal.append(late[0]!);
    sure(await flushToDisk(at.journal, { ...night, all: true }));
    await logAll(at, 500, 'again');
    at.journal.append(...late);
    sure(await flushToDisk(at.journal, { ...night, all: true }));
    expect(
      at
        .text()
        .match(/tape: \w+/g)
        ?.sort(),
    ).toEqual(['tape: l', 'tape: m', 'tape: m']);
  });

  test('is taken back by its attempt and as a whole', async () => {
    const at = bench();
    await logBlock(at, 'b-early');
    await logAll(at, 500);
    const { state } = sure(at.journal.pending('all'));
    const [of] = state.sealed.get('b-early')!.seal.attempts;
    at.journal.append(undo(at.clock, of!), undo(at.clock, 'b-3'));
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).not.toMatch(/b-early|b-3,/);
    expect(at.text().match(/id: b-/g)).toHaveLength(499);
  });

  test('is found by what names it once all that was logged after it was taken back', async () => {
    const at = bench();
    await logBlock(at, 'b-early');
    await logAll(at, 500);
    const { state } = sure(at.journal.pending('all'));
    at.journal.append(...state.lastLogged()!.ids.map((of) => undo(at.clock, of)));
    sure(await flushToDisk(at.journal, night));
    expect(sure(at.journal.pending()).state.lastLogged()?.id).toBe(
      state.sealed.get('b-early')!.seal.attempts[0],
    );
  });

  test.each([
    ['torn in the middle', (text: string) => text.slice(0, 9_000) + text.slice(9_200)],
    ['with a line of something else', (text: string) => `no line\n${text}`],
  ])('is found in a file that is %s; what is no line is set aside', async (_, damage) => {
    const at = bench();
    await logAll(at, 500);
    const path = join(at.journal.folder, archives(at)[0]!);
    writeFileSync(path, damage(readFileSync(path, 'utf8')));
    writeFileSync(at.path, empty);
    at.journal.append(...entries(at, 500).slice(400, 410));
    sure(await flushToDisk(at.journal, night));
    expect(at.text()).toBe(empty);
    await logAll(at, 500, 'more');
    expect(readdirSync(at.journal.folder)).toContain('set-aside.txt');
  });

  test('cut off by a full disk: the rest is read', async () => {
    const at = bench();
    await logAll(at, 500);
    const path = join(at.journal.folder, archives(at)[0]!);
    truncateSync(path, 20_000);
    expect(readJournal(at.journal.folder, 'all').archived.length).toBeGreaterThan(50);
    await logBlock(at, 'b-new');
    expect(at.text().match(/b-new/g)).toHaveLength(1);
  });
});

test('each of many entries is found without reading the rest', async () => {
  const at = bench();
  await logAll(at, 2_000);
  const [name] = archives(at);
  const size = statSync(join(at.journal.folder, name!)).size;
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: 0, max: 1_979 }), async (index) => {
      const [line] = entries(at, 2_000).slice(index);
      appendFileSync(join(at.journal.folder, 'other.open.jsonl'), encodeLine(line!));
      const { bytes, result } = await bytesRead(
        (path) => path.endsWith(name!),
        () => at.journal.pending(),
      );
      writeFileSync(join(at.journal.folder, 'other.open.jsonl'), '');
      expect(sure(result).state.sealed.get(line!.id)?.state).toBe('saved');
      expect(bytes).toBeLessThan(size / 10);
    }),
    { seed: 3, numRuns: 200 },
  );
});

test('what was imported, logged and taken back with a long journal: the file has what was left', async () => {
  const step = fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom('attempt', 'tape', 'undo', 'end') },
    { weight: 1, arbitrary: fc.constantFrom('import', 'wait') },
  );
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 16 }), async (steps) => {
      const rows = Array.from(
        { length: 120 },
        (_, i) => `${2016 + (i % 9)}-03-${10 + (i % 19)},wall-kick,${i + 1}`,
      );
      const table = `start,technique,minutes,notes\n${rows.map((row) => `${row},${'so '.repeat(50)}`).join('\n')}\n`;
      const desk = new Desk({ ...started, 'rows.csv': table });
      const made: ('l' | 'rows')[] = [];
      for (const one of ['import', ...steps]) {
        desk.clock.pass(5);
        if (one === 'import') {
          const { code } = await desk.log('--import', 'rows.csv');
          expect(code).toBe(made.includes('rows') ? 1 : 0);
          if (!made.includes('rows')) made.push('rows');
        } else if (one === 'attempt') {
          await desk.log('crate-vault', '--landed');
          made.push('l');
        } else if (one === 'tape') {
          await desk.log('crate-vault', '--tape', 'l');
          made.push('l');
        } else if (one === 'undo') expect((await desk.log('--undo')).code).toBe(made.pop() ? 0 : 2);
        else if (one === 'end') await desk.log('--end');
        else desk.clock.pass(week + 1);
      }
      await desk.log('--end');
      await desk.log();
      expect(desk.text().match(/wall-kick/g)?.length ?? 0).toBe(made.includes('rows') ? 120 : 0);
      const tapes = desk.text().match(/tape: l+/g) ?? [];
      expect(tapes.join('').replaceAll('tape: ', '')).toBe(
        made
          .filter((one) => one === 'l')
          .map(() => 'l')
          .join(''),
      );
    }),
    { seed: 11, numRuns: 12 },
  );
});
