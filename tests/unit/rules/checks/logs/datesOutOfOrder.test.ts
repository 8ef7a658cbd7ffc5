import { describe, expect, it } from 'vitest';
import { practiced, ran } from '../../builders/plainLogs.ts';
import { expectMarked, underlined } from '../../marked.ts';

describe('dates-out-of-order', () => {
  it('is found where an entry began before the one above it', async () => {
    const files = practiced(
      'start: 2026-10-05T19:30',
      'start: ⟦2026-10-05T19:20⟧',
      'start: 2026-10-05T19:20',
      'start: 2026-10-06',
    );
    const [finding] = await expectMarked(files, 'dates-out-of-order');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual([
      'a.practice.yaml: 2026-10-05T19:30',
    ]);
    await expectMarked(
      ran('date: 2026-10-05, runs: 3', 'start: ⟦2026-10-04T20:00⟧', 'date: ⟦2026-10-03⟧, runs: 1'),
      'dates-out-of-order',
    );
  });

  it('takes a run after midnight as part of the evening', async () => {
    await expectMarked(ran('start: 2026-10-06T00:40', 'date: 2026-10-05, runs: 3'), 'dates-out-of-order');
  });
});
