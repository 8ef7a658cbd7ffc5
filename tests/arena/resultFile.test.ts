/** A stopped arena goes on where it ended. */
import { appendFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { appendResult, leftOf, readResults, resultsOf } from './resultFile.ts';
import type { Done } from './resultFile.ts';
import type { Task } from './task.ts';

let folder = '';
let file = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'arena-'));
  file = join(folder, 'results');
});
afterEach(() => rmSync(folder, { recursive: true }));

const task: Task = { kind: 'own', runner: 3, seed: 7, knownShare: 0, policies: ['a', 'b'] };

/** What was done of a task, with an area for each policy. */
function doneWith(of: Task, area: number): Done {
  const outcome = { area, final: 1, exits: 0, slip: null };
  const outcomes = Object.fromEntries(of.policies.map((title) => [title, outcome]));
  return { task: of, result: { kind: of.kind, runner: of.runner, best: { area, final: 1 }, outcomes } };
}

test('what was written is read again, also after a line that was cut off', () => {
  expect(readResults(file)).toEqual([]);
  const [first, second] = [doneWith(task, 0.5), doneWith({ ...task, runner: 4 }, 0.6)];
  appendResult(file, first);
  appendFileSync(file, '{"task":{"ki');
  expect(readResults(file)).toEqual([first]);
  appendResult(file, second);
  expect(readResults(file)).toEqual([first, second]);
});

test('only the policies that are missing are left', () => {
  const done = [doneWith({ ...task, policies: ['a'] }, 0.5)];
  expect(leftOf([task], done)).toEqual([{ ...task, policies: ['b'] }]);
  expect(leftOf([task], [...done, doneWith({ ...task, policies: ['b'] }, 0.5)])).toEqual([]);
});

test('other seeds, kinds, runners and shares are other runners', () => {
  const done = [doneWith(task, 0.5)];
  for (const other of [{ seed: 8 }, { kind: 'plateau' }, { runner: 4 }, { knownShare: 0.2 }]) {
    expect(leftOf([{ ...task, ...other }], done)).toHaveLength(1);
    expect(resultsOf([{ ...task, ...other }], done)).toEqual([]);
  }
});

test('a runner whose policies were followed in two goes is one result', () => {
  const done = [doneWith({ ...task, policies: ['a'] }, 0.5), doneWith({ ...task, policies: ['b'] }, 0.6)];
  const [result] = resultsOf([task], done);
  expect(Object.values(result!.outcomes).map(({ area }) => area)).toEqual([0.5, 0.6]);
  expect(result!.best.area).toBe(0.6);
  expect(resultsOf([task], [...done].reverse())[0]!.best.area).toBe(0.6);
});
