import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import type { Clock } from '../../server/src/journal/clock.ts';
import { systemClock } from '../../server/src/journal/clock.ts';
import { isFailure, type Failure } from '../../server/src/journal/failure.ts';
import { openJournal, type Journal } from '../../server/src/journal/journal.ts';
import type { AttemptLine, EndLine, StartLine, UndoLine } from '../../server/src/journal/journalLines.ts';

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

/** A folder of its own, removed when the tests of the file are done. */
export function ownFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-journal-'));
  made.push(folder);
  return folder;
}

/** A clock that stands still until it is set. */
export class SetClock implements Clock {
  private at: number;

  constructor(moment: string) {
    this.at = Date.parse(moment);
  }

  now(): number {
    return this.at;
  }

  local(at: number): string {
    return systemClock.local(at);
  }

  readonly pause = () => Promise.resolve();

  /** Seconds forth, or back. */
  pass(seconds: number): void {
    this.at += seconds * 1000;
  }
}

export interface Bench {
  readonly folder: string;
  readonly path: string;
  readonly state: string;
  readonly clock: SetClock;
  readonly journal: Journal;
  text(): string;
}

/** A practice file with a journal. */
export function bench(
  text = 'route: lanternfall.route.yaml\nsessions: []\n',
  moment = '2026-10-05T19:30',
): Bench {
  const folder = ownFolder();
  const path = join(folder, 'lanternfall.practice.yaml');
  const state = join(folder, 'state');
  mkdirSync(state);
  writeFileSync(path, text);
  const clock = new SetClock(moment);
  const journal = openJournal(path, { state, clock });
  if ('reason' in journal) throw new Error(journal.reason);
  return { folder, path, state, clock, journal, text: () => readFileSync(path, 'utf8') };
}

let count = 0;
const nextId = () => `line-${(count += 1)}`;

export function start(clock: Clock, block: string, technique = 'crate-vault'): StartLine {
  const at = clock.now();
  return { kind: 'start', id: nextId(), at, local: clock.local(at), block, technique };
}

export function attempt(clock: Clock, block: string, landed = true, technique = 'crate-vault'): AttemptLine {
  const at = clock.now();
  return { kind: 'attempt', id: nextId(), at, local: clock.local(at), block, technique, landed };
}

export function end(clock: Clock, block: string): EndLine {
  return { kind: 'end', id: nextId(), at: clock.now(), block };
}

export function undo(clock: Clock, of: string): UndoLine {
  return { kind: 'undo', id: nextId(), at: clock.now(), of };
}

/** What is not a failure, or the test ends here. */
export function sure<T extends object>(value: T | undefined): Exclude<T, Failure> {
  if (value === undefined) throw new Error('Nothing came back.');
  if (isFailure(value)) throw new Error(value.reason);
  return value as Exclude<T, Failure>;
}
