import {
  appendFileSync,
  closeSync,
  openSync,
  readFileSync,
  readdirSync,
  renameSync,
  statSync,
  utimesSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { env } from 'node:process';
import { pathToFileURL } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { encodeLine, type JournalLine } from '../../server/src/journal/journalLines.ts';
import { routewright } from '../cli/place.ts';
import { programOf } from '../helpers/commandLine.ts';
import type { Fault } from './faults.ts';
import { ownFolder, sure } from './place.ts';
import { begin, eachLine, place, type Place } from './processes.ts';

/*
 * The command line puts a block into the file while each of its calls to the file system in turn is the last one, fails,
 * or is followed by a stop during which another process and another program write. ROUTEWRIGHT_LONG=1 takes every
 * call, otherwise all that change names and every sixth of the others.
 */
const every = env.ROUTEWRIGHT_LONG === '1' ? 1 : 6;

let command: string;
let faults: string;

beforeAll(async () => {
  command = await programOf('server/src/cli.ts', ownFolder());
  faults = await programOf('tests/journal/faults.ts', ownFolder());
});

/** A place in whose journal a block waits, and in whose file are words of the runner's own. */
async function waiting(): Promise<Place> {
  const at = place();
  writeFileSync(at.journal.path, 'route: lanternfall.route.yaml # mine\nsessions: []\n');
  for (const letter of ['--landed', '--missed', '--landed']) await log(at, 'crate-vault', letter);
  return at;
}

async function log({ folder, state }: Place, ...args: readonly string[]): Promise<string> {
  const said = await routewright(folder, ['log', ...args], { env: { ROUTEWRIGHT_STATE_HOME: state } });
  expect(said.err).toBe('');
  expect(said.code).toBe(0);
  return said.out;
}

/** Ends the block in a process of its own, with a fault. */
function ending(at: Place, fault: Fault) {
  const child = begin(at, command, ['log', '--end'], {
    NODE_OPTIONS: `--import ${pathToFileURL(faults).href}`,
    ROUTEWRIGHT_FAULT: JSON.stringify(fault),
  });
  let out = '';
  const closed = eachLine(child, (line) => void (out += `${line}\n`)).then(() => out);
  return { child, closed };
}

/** The calls of one fold, each as its name and what it is about. */
async function trace(
  at: Place,
): Promise<{ readonly name: string; readonly first: string; readonly second: string }[]> {
  const file = join(ownFolder(), 'trace');
  await ending(at, { trace: file }).closed;
  return readFileSync(file, 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => {
      const [name = '', first = '', second = ''] = line.split(' ');
      return { name, first, second };
    });
}

/** Numbers of the calls at which something is tried. */
async function steps(): Promise<number[]> {
  const calls = await trace(await waiting());
  return calls.flatMap(({ name }, index) =>
    /^(?:rename|link|unlink|fsync|write)/.test(name) || index % every === 0 ? [index + 1] : [],
  );
}

/** Makes a lock look as if nobody had renewed it for long, or as if it had been made before the clock was set back. */
function ageLock({ journal }: Place, seconds: number): void {
  const lock = join(journal.folder, 'fold.lock');
  const at = Date.now() / 1000 - seconds;
  if (readdirSync(journal.folder).includes('fold.lock')) utimesSync(lock, at, at);
}

/** The file holds the block once, and the words of others. */
function expectWhole({ journal }: Place, step: string, ...words: readonly string[]): void {
  const text = readFileSync(journal.path, 'utf8');
  expect([step, text.match(/tape: lml /g)]).toEqual([step, ['tape: lml ']]);
  for (const word of ['# mine', ...words])
    expect([step, text]).toEqual([step, expect.stringContaining(word)]);
  const waits = readdirSync(journal.folder).filter(
    (name) => name.endsWith('.jsonl') && !/^(?:folds|settled-)/.test(name),
  );
  expect([step, waits]).toEqual([step, []]);
}

test('first the new text is on the disk, then it takes the name, then that is on the disk, then the journal is cleared', async () => {
  const at = await waiting();
  const { journal, folder } = at;
  const calls = await trace(at);
  const file = journal.path;
  const folds = join(journal.folder, 'folds.open.jsonl');
  /** Where a call comes for the first time after another. */
  const after = (from: number, name: string, fits: (first: string, second: string) => boolean): number => {
    const found = calls.findIndex(
      (call, index) => index > from && call.name === name && fits(call.first, call.second),
    );
    expect([name, from, found]).toEqual([name, from, expect.any(Number)]);
    expect(found).toBeGreaterThan(from);
    return found;
  };
  const isNew = (path: string) => path.startsWith(folder) && path.endsWith('.new');
  const lock = join(journal.folder, 'fold.lock');
  let step = after(-1, 'fsyncSync', (first) => first === folds); // the seal
  step = after(step, 'writeFileSync', isNew);
  step = after(step, 'fsyncSync', isNew);
  step = after(step, 'readFileSync', (first) => first === lock); // is it still ours?
  step = after(step, 'readFileSync', (first) => first === file); // is it still what was read?
  step = after(step, 'renameSync', (first, second) => first === file && second.endsWith('.old'));
  step = after(step, 'lstatSync', (first) => first.endsWith('.old'));
  step = after(step, 'linkSync', (first, second) => isNew(first) && second === file);
  step = after(step, 'fsyncSync', (first) => first === folder);
  step = after(step, 'readFileSync', (first) => first.endsWith('.old')); // did anybody write to it?
  step = after(step, 'readFileSync', (first) => first === file); // did anybody write over it?
  step = after(step, 'readFileSync', (first) => first === lock);
  step = after(step, 'writeSync', (first) => first === folds); // saved
  step = after(step, 'fsyncSync', (first) => first === folds);
  step = after(step, 'unlinkSync', (first) => first.startsWith(journal.folder) && first.endsWith('.jsonl'));
  // Nothing of the journal is cleared before.
  expect(calls.findIndex(({ name, first }) => name === 'unlinkSync' && first.endsWith('.jsonl'))).toBe(step);
  // Between the two names there is nothing but the question whose file it was.
  const taken = calls.findIndex(({ name, second }) => name === 'renameSync' && second.endsWith('.old'));
  expect(calls.slice(taken, taken + 3).map(({ name }) => name)).toEqual([
    'renameSync',
    'lstatSync',
    'linkSync',
  ]);
});

test('a lock is waited for while its owner renews it, and not where it is dated in the future', async () => {
  const at = await waiting();
  // This process runs, and is not the owner of any lock.
  const held = `${process.pid} 0123 ${hostname()}`;
  writeFileSync(join(at.journal.folder, 'fold.lock'), held);
  expect(await log(at, '--end')).toContain('is left as it is: another program is writing to it.');
  ageLock(at, -3600);
  await log(at, '.');
  expectWhole(at, 'dated in the future');
});

test('a new journal is on the disk with every folder above it', async () => {
  const at = place();
  const file = join(ownFolder(), 'trace');
  const child = begin(at, command, ['log', 'crate-vault', '--landed'], {
    NODE_OPTIONS: `--import ${pathToFileURL(faults).href}`,
    ROUTEWRIGHT_FAULT: JSON.stringify({ trace: file, from: at.state }),
  });
  await eachLine(child, () => undefined);
  const synced = readFileSync(file, 'utf8')
    .split('\n')
    .flatMap((line) => /^fsyncSync (\S+)/.exec(line)?.[1] ?? []);
  const journals = join(at.state, 'routewright', 'journal');
  expect(synced).toEqual(
    expect.arrayContaining([at.state, join(at.state, 'routewright'), journals, at.journal.folder]),
  );
});

describe('at each call', () => {
  test('ended there: the block is found once, and no name is lost', async () => {
    const all = await steps();
    for (const step of all) {
      const at = await waiting();
      await ending(at, { at: step, what: 'kill' }).closed;
      // The clock was set back since.
      ageLock(at, -3600);
      await log(at, '.');
      expectWhole(at, `ended at ${step}`);
    }
    console.log(`ended at each of ${all.length} calls`);
  });

  test.each(['fail', 'full'] as const)(
    'the disk says no there (%s): the block waits or is found once',
    async (what) => {
      const all = await steps();
      for (const step of all) {
        const at = await waiting();
        await ending(at, { at: step, what }).closed;
        ageLock(at, 3600);
        await log(at, '.');
        expectWhole(at, `${what} at ${step}`);
      }
      console.log(`${what} at each of ${all.length} calls`);
    },
  );

  test('stopped there while others write: the words of all are found once', async () => {
    const all = await steps();
    let beside = 0;
    for (const step of all) {
      const at = await waiting();
      const trace = join(ownFolder(), 'trace');
      const { child, closed } = ending(at, { at: step, what: 'stop', trace });
      await stopped(child.pid!, trace, step);
      ageLock(at, 10);
      // Another process of ours, then a program that knows nothing of us, which replaces the file.
      await log(at, 'wall-kick', '--missed');
      await log(at, '--end');
      const text = readFileSync(at.journal.path, 'utf8');
      writeFileSync(`${at.journal.path}~`, text.replace('\n', '\n# theirs\n'));
      renameSync(`${at.journal.path}~`, at.journal.path);
      child.kill('SIGCONT');
      await closed;
      ageLock(at, 10);
      await log(at, '.');
      expectWhole(at, `stopped at ${step}`, '# theirs', 'technique: wall-kick, minutes: 0.1, tape: m ');
      expect([step, readFileSync(at.journal.path, 'utf8').match(/wall-kick/g)]).toEqual([
        step,
        ['wall-kick'],
      ]);
      beside += readdirSync(at.folder).filter((name) => name.includes('conflict')).length;
    }
    console.log(`stopped at each of ${all.length} calls, copies beside: ${beside}`);
  });
});

describe('at each call that clears a long journal', () => {
  /** Entries that were settled before, more than stay where each entry reads them. */
  const before = Array.from({ length: 120 }, (_, i) => `b-before-${i}`);

  async function waitingLong(): Promise<Place> {
    const at = await waiting();
    const seal = { kind: 'seal', local: '2026-10-01T19:30', attempts: [], undone: [], after: '' } as const;
    const entry = { technique: 'wall-kick', minutes: 20, notes: 'the wall '.repeat(20) };
    const lines = before.flatMap((block, i): JournalLine[] => [
      { ...seal, id: `s-${i}`, at: i, block, entry },
      { kind: 'saved', id: `m-${i}`, at: i, block, seal: `s-${i}` },
    ]);
    appendFileSync(join(at.journal.folder, 'folds.open.jsonl'), lines.map(encodeLine).join(''));
    return at;
  }

  /** Numbers of the calls from the one that puts the file of seals aside to the last that clears a file away. */
  async function clearing(): Promise<number[]> {
    const calls = await trace(await waitingLong());
    const from = calls.findIndex(({ name, first }) => name === 'renameSync' && first.includes('folds.open'));
    const to = calls.findLastIndex(({ name }) => name === 'unlinkSync');
    expect(from).toBeGreaterThan(0);
    return calls.slice(from, to + 1).map((_, i) => from + i + 1);
  }

  /** Every entry is known once, in its order, and the file has the block. */
  function expectKnown(at: Place, step: string, ...later: readonly string[]): void {
    expectWhole(at, step);
    const { state } = sure(at.journal.pending('all'));
    const known = [...state.sealed].map(([id, one]) => [id, one.state]);
    expect([step, known.slice(0, before.length)]).toEqual([step, before.map((id) => [id, 'saved'])]);
    expect([step, known.length]).toEqual([step, before.length + 1 + later.length]);
    expect([step, state.open]).toEqual([step, []]);
  }

  test.each(['kill', 'fail', 'full'] as const)('%s: nothing is forgotten', async (what) => {
    for (const step of await clearing()) {
      const at = await waitingLong();
      await ending(at, { at: step, what }).closed;
      ageLock(at, -3600);
      await log(at, '.');
      expectKnown(at, `${what} at ${step}`);
    }
  });

  test('stopped while another process clears the same and logs: nothing is forgotten', async () => {
    for (const step of await clearing()) {
      const at = await waitingLong();
      const trace = join(ownFolder(), 'trace');
      const { child, closed } = ending(at, { at: step, what: 'stop', trace });
      await stopped(child.pid!, trace, step);
      ageLock(at, 10);
      await log(at, 'wall-kick', '--missed');
      await log(at, '--end');
      child.kill('SIGCONT');
      await closed;
      ageLock(at, 10);
      await log(at, '.');
      expectKnown(at, `stopped at ${step}`, 'wall-kick');
    }
  });
});

test('stopped at each call while a program writes into the file that it opened before: its words stay', async () => {
  const calls = await trace(await waiting());
  // After the last look at the file that was replaced, nobody can know of what is written to it.
  const last = calls.findLastIndex(({ name, first }) => name === 'readFileSync' && first.endsWith('.old'));
  const from = calls.findIndex(({ first }) => first.endsWith('.practice.yaml'));
  for (let step = from + 1; step <= last + 1; step++) {
    const at = await waiting();
    const file = openSync(at.journal.path, 'r+');
    const text = readFileSync(at.journal.path, 'utf8');
    const trace = join(ownFolder(), 'trace');
    const { child, closed } = ending(at, { at: step, what: 'stop', trace });
    await stopped(child.pid!, trace, step);
    writeSync(file, text.replace('\n', '\n# theirs\n'), 0);
    closeSync(file);
    child.kill('SIGCONT');
    await closed;
    await log(at, '.');
    expectWhole(at, `stopped at ${step}`, '# theirs');
    expect(readdirSync(at.folder).sort()).toEqual(['lanternfall.practice.yaml', 'lanternfall.route.yaml']);
  }
  console.log(`written in place at each of ${last + 1 - from} calls`);
});

/** Resolves when a process has come to a call and stands still. */
async function stopped(pid: number, trace: string, step: number): Promise<void> {
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, 10));
    const lines = statSync(trace, { throwIfNoEntry: false })
      ? readFileSync(trace, 'utf8').split('\n').length - 1
      : 0;
    if (lines >= step && /^\d+ \(.*\) T/.test(readFileSync(`/proc/${pid}/stat`, 'utf8'))) return;
  }
}
