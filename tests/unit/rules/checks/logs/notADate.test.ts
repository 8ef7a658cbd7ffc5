import { describe, expect, it } from 'vitest';
import { block, practiced, ran } from '../../builders/plainLogs.ts';
import { poolText } from '../../../../helpers/poolFiles.ts';
import { expectMarked, plainRoute } from '../../marked.ts';

describe('not-a-date', () => {
  it('is found for days and times that no calendar or clock has', async () => {
    const [day, time] = await expectMarked(
      practiced(
        block('technique: crate-vault, minutes: 20', '⟦2026-02-30⟧'),
        block('technique: crate-vault, minutes: 20', '⟦2026-03-01T24:10⟧'),
        block('technique: crate-vault, minutes: 20', '"2028-02-29T23:59"'),
      ),
      'not-a-date',
    );
    expect(day?.message).toContain('no day `2026-02-30`');
    expect(time?.message).toContain('no time of day `2026-03-01T24:10`');
    await expectMarked(
      ran('start: ⟦"2026-06-31"⟧', 'date: ⟦2027-02-29⟧, runs: 3', 'date: 2026-06-30, runs: 3'),
      'not-a-date',
    );
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        'a.week.yaml': 'route: a.route.yaml\noff: [2026-10-31, ⟦2026-11-31⟧]\nruns: { sat: 60 }\n',
      },
      'not-a-date',
    );
  });

  it('is found for the day of a pool, which counts nevertheless', async () => {
    const text = poolText({ route: 'a.route.yaml', day: '⟦2026-02-30⟧' });
    const [day] = await expectMarked({ 'a.route.yaml': plainRoute, 'a.pool.yaml': text }, 'not-a-date');
    expect(day?.message).toBe(
      'There is no day `2026-02-30`. Correct it, or make the pool again; its techniques count nevertheless.',
    );
  });
});
