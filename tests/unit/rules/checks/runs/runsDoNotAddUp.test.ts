import { describe, expect, it } from 'vitest';
import { ran } from '../../builders/plainLogs.ts';
import { expectMarked } from '../../marked.ts';

describe('runs-do-not-add-up', () => {
  it('is found where more runs ended than were started', async () => {
    const [finding] = await expectMarked(
      ran(
        'date: 2026-10-05, runs: ⟦10⟧, finished: 2, ended: { harbor: { reset: 6, death: 3 } }',
        'date: 2026-10-06, runs: 10, finished: 2, ended: { harbor: { reset: 6 } }',
      ),
      'runs-do-not-add-up',
    );
    expect(finding?.message).toContain('10 runs were started, and 11 ended: 2 finished and 9 before the end');
  });
});
