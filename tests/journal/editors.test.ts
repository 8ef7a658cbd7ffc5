import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { threadId } from 'node:worker_threads';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { liveEditors, markEditor } from '../../server/src/journal/editorMarker.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'editors-'));
  mkdirSync(join(folder, 'editors'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const leave = (owner: object): void =>
  writeFileSync(join(folder, 'editors', '000000000000001-before.json'), JSON.stringify(owner));

describe('a log that an editor had open', () => {
  it.each([
    ['by a thread of this process that crashed', { pid: process.pid, thread: threadId + 1000 }, true],
    ['by this very thread', { pid: process.pid, thread: threadId }, false],
    ['by a process that is gone', { pid: 2 ** 30, thread: 1 }, true],
    ['by another process', { pid: process.ppid, thread: threadId + 1000 }, false],
  ])('%s before us', (_, owner, gone) => {
    leave({ ...owner, host: hostname() });
    const marker = markEditor(folder, 'ours', Date.now());
    expect(marker.ownsFlush()).toBe(gone);
    expect(liveEditors(folder)).toHaveLength(gone ? 1 : 2);
    marker.release();
  });
});
