import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { isFailure } from '../../server/src/journal/failure.ts';
import { openJournal, type Journal } from '../../server/src/journal/journal.ts';
import { systemClock } from '../../server/src/journal/clock.ts';
import { route, routewright, textOf } from '../cli/place.ts';
import { smallDisk, type SmallDisk } from '../helpers/smallDisk.ts';
import { ownFolder, sure } from './place.ts';

const disks: SmallDisk[] = [];
afterEach(() => {
  for (const disk of disks.splice(0)) disk.unmount();
});

function disk(): SmallDisk {
  const made = smallDisk(join(ownFolder(), 'disk'), 256);
  disks.push(made);
  return made;
}

/** A route with an empty practice file. */
function files(folder: string): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'lanternfall.route.yaml'), route);
  writeFileSync(join(folder, 'lanternfall.practice.yaml'), 'route: lanternfall.route.yaml\nsessions: []\n');
}

function attemptsIn(folder: string, state: string): number {
  const journal: Journal = sure(
    openJournal(join(folder, 'lanternfall.practice.yaml'), {
      state: join(state, 'routewright'),
      clock: systemClock,
    }),
  );
  const pending = journal.pending();
  return isFailure(pending)
    ? NaN
    : pending.state.open.reduce((sum, { attempts }) => sum + attempts.length, 0);
}

test('a full disk under the journal: what is not written is not acknowledged, what was stays', async () => {
  const folder = ownFolder();
  files(folder);
  const small = disk();
  const env = { ROUTEWRIGHT_STATE_HOME: small.folder };
  const log = (...args: string[]) => routewright(folder, ['log', 'crate-vault', ...args], { env });
  expect((await log('--landed')).code).toBe(0);
  small.fill();
  let acknowledged = 1;
  let said = await log('--landed');
  // The page of memory that the file ends in takes some more.
  for (; said.code === 0 && acknowledged < 100; said = await log('--landed')) acknowledged += 1;
  expect(said).toMatchObject({ code: 2, out: '' });
  expect(said.err).toMatch(
    /^Nothing was logged\. The journal in .* cannot be written: the disk is full\.\n$/,
  );
  expect(attemptsIn(folder, small.folder)).toBe(acknowledged);
  small.free();
  said = await log('--landed');
  expect(said.code).toBe(0);
  expect(attemptsIn(folder, small.folder)).toBe(acknowledged + 1);
  expect((await log('--end')).code).toBe(0);
  expect(textOf(folder, 'lanternfall.practice.yaml')).toContain(`tape: ${'l'.repeat(acknowledged + 1)} }`);
});

test('a full disk under the practice file: the attempts wait in the journal', async () => {
  const small = disk();
  const env = { ROUTEWRIGHT_STATE_HOME: ownFolder() };
  files(small.folder);
  const log = (...args: string[]) => routewright(small.folder, ['log', ...args], { env });
  for (const landed of ['--landed', '--missed', '--landed'])
    expect((await log('crate-vault', landed)).code).toBe(0);
  const before = textOf(small.folder, 'lanternfall.practice.yaml');
  small.fill();
  const said = await log('--end');
  expect(said.code).toBe(0);
  expect(said.out).toContain(
    'lanternfall.practice.yaml is left as it is: the disk is full. What was logged is safe in the journal and goes in next time.',
  );
  expect(textOf(small.folder, 'lanternfall.practice.yaml')).toBe(before);
  small.free();
  expect((await log()).out).toContain('Into lanternfall.practice.yaml: Crate vault, 0.1 min, 2 of 3 landed.');
  expect(textOf(small.folder, 'lanternfall.practice.yaml')).toContain('tape: lml }');
});

test('a read-only disk under the practice file, then under the journal', async () => {
  const small = disk();
  const state = disk();
  const env = { ROUTEWRIGHT_STATE_HOME: state.folder };
  files(small.folder);
  const log = (...args: string[]) => routewright(small.folder, ['log', ...args], { env });
  expect((await log('crate-vault', '--landed')).code).toBe(0);
  small.readOnly(true);
  expect((await log('--end')).out).toContain('is left as it is: the disk is read-only.');
  state.readOnly(true);
  const said = await log('crate-vault', '--missed');
  expect(said).toMatchObject({ code: 2, out: '' });
  expect(said.err).toContain('cannot be written: the disk is read-only.');
  small.readOnly(false);
  state.readOnly(false);
  expect((await log()).code).toBe(0);
  expect(textOf(small.folder, 'lanternfall.practice.yaml').match(/tape: l /g)).toHaveLength(1);
});
