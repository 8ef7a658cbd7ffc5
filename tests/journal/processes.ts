import { spawn, type ChildProcess } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { env, execPath } from 'node:process';
import { systemClock } from '../../server/src/journal/clock.ts';
import { flushToDisk } from '../../server/src/journal/flush.ts';
import { openJournal, type Journal } from '../../server/src/journal/journal.ts';
import { route } from '../cli/place.ts';
import { ownFolder, sure } from './place.ts';

/** A folder with a route and a practice file, in which processes log that a test ends. */
export interface Place {
  readonly folder: string;
  readonly state: string;
  readonly journal: Journal;
  /** Letter by id of each attempt that a process acknowledged. */
  readonly acknowledged: Map<string, string>;
}

export function place(): Place {
  const folder = ownFolder();
  const state = ownFolder();
  writeFileSync(join(folder, 'lanternfall.route.yaml'), route);
  writeFileSync(join(folder, 'lanternfall.practice.yaml'), 'route: lanternfall.route.yaml\nsessions: []\n');
  return { folder, state, journal: journalOf(folder, state), acknowledged: new Map() };
}

export function journalOf(folder: string, state: string): Journal {
  return sure(
    openJournal(join(folder, 'lanternfall.practice.yaml'), {
      state: join(state, 'routewright'),
      clock: systemClock,
    }),
  );
}

/**
 * Starts a program in a place.
 *
 * @param more further variables of its environment
 */
export function begin(
  { folder, state }: Pick<Place, 'folder' | 'state'>,
  program: string,
  args: readonly string[],
  more: Readonly<Record<string, string>> = {},
): ChildProcess {
  return spawn(execPath, [program, ...args], {
    cwd: folder,
    env: { ...env, ROUTEWRIGHT_STATE_HOME: state, ...more },
    stdio: ['pipe', 'pipe', 'ignore'],
  });
}

/** Calls back with each whole line that a process prints; resolves when it is gone. */
export function eachLine(child: ChildProcess, onLine: (line: string) => void): Promise<void> {
  let text = '';
  child.stdout!.on('data', (chunk: Buffer) => {
    text += chunk.toString();
    const lines = text.split('\n');
    text = lines.pop()!;
    lines.forEach(onLine);
  });
  return new Promise((resolve) => child.on('close', () => resolve()));
}

/** Takes down what a process acknowledges; resolves when it is gone. */
export function listen(
  { acknowledged }: Place,
  child: ChildProcess,
  onLine: (count: number) => void = () => undefined,
): Promise<void> {
  let count = 0;
  return eachLine(child, (line) => {
    const [id = '', letter = ''] = line.split(' ');
    acknowledged.set(id, letter);
    onLine((count += 1));
  });
}

/** The next start: everything goes into the file, also what a killed owner of the lock left. */
export async function recover({ folder, state }: Place): Promise<void> {
  const journal = journalOf(folder, state);
  sure(await flushToDisk(journal, { dayStarts: 240, all: true, patience: 10_000 }));
}
