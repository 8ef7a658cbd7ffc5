import { describe, expect, it } from 'vitest';
import { codes, log, session } from '../../builders/sessions.ts';
import { expectMarked } from '../../marked.ts';

describe('no-night-between', () => {
  it('is found where another day of practice was there to take a block', async () => {
    const twice = ['rope-swing 25', 'lamp-hop 25'];
    const files = (day: string) =>
      log(
        session(day, 'lamp-hop 25'),
        session('2026-10-08T18:00', ...twice),
        session('2026-10-08T21:00', '⟦rope-swing⟧ 25', 'lamp-hop 25'),
      );
    const [finding] = await expectMarked(files('2026-10-02T19:00'), 'no-night-between');
    expect(finding?.message).toContain('50 minutes of `rope-swing`, all on one day');
    expect(await codes(log(session('2026-10-08T18:00', ...twice, ...twice)))).toEqual([]);
  });

  it('counts the hours after midnight to the evening before', async () => {
    await expectMarked(
      log(
        session('2026-10-05T19:00', 'lamp-hop 25'),
        session('2026-10-06T23:00', 'rope-swing 25', 'lamp-hop 20'),
        session('2026-10-07T00:30', '⟦rope-swing⟧ 25', 'lamp-hop 20'),
      ),
      'no-night-between',
    );
  });
});
