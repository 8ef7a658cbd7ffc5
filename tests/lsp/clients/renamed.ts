import { expect } from 'vitest';
import type { Session } from './client.ts';

/** Checks on the disk that `tide-skip` became `tide-hop` in all files that name it, and nothing else changed there. */
export function expectRenamed({ route, practice, week, runs }: Session['files']): void {
  expect(route).toContain('\n  tide-hop:\n');
  expect(route).toContain('was: [tide-skip]');
  expect(route).not.toContain('- tide-skip\n');
  for (const text of [practice, week]) {
    expect(text).toContain('tide-hop');
    expect(text).not.toContain('tide-skip');
  }
  expect(runs).not.toContain('tide-hop');
}
