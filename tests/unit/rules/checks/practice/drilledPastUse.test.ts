import { describe, expect, it } from 'vitest';
import { parseMoment } from '../../../../../server/src/text/calendar.ts';
import { log, rate, says, session } from '../../builders/sessions.ts';
import { expectMarkedForecast, forecastsOf } from '../../marked.ts';

describe('drilled-past-use', () => {
  const code = 'drilled-past-use';
  const files = log(session('2026-10-05T19:00', 'lamp-hop 25'), session('2026-10-06T19:00', '⟦lamp-hop⟧ 25'));
  const plain = log(session('2026-10-05T19:00', 'lamp-hop 25'), session('2026-10-06T19:00', 'lamp-hop 25'));

  it('is found where it is competent, lands nearly always, and had two blocks in a week', async () => {
    const [finding] = await expectMarkedForecast(files, code, says('lamp-hop', 0.99));
    expect(finding?.message).toContain('about 97 % of the time in practice (95 % or more)');
  });

  it('is not found where either is in doubt, or practice is over', async () => {
    expect(await forecastsOf(plain, says('lamp-hop', 0.79))).toEqual([]);
    expect(await forecastsOf(plain, says('lamp-hop', 0.99, rate(0.95, 0.89)))).toEqual([]);
    expect(await forecastsOf(plain, says('lamp-hop', 0.99), { today: '2026-10-13' })).toEqual([]);
  });

  it('counts only the blocks after the day on which it became competent', async () => {
    const stands = (since: string) => {
      const { standing: usual, ...rest } = says('lamp-hop', 0.99).get('lamp-hop')!;
      return new Map([['lamp-hop', { ...rest, standing: { ...usual, since: parseMoment(since)!.date } }]]);
    };
    await expectMarkedForecast(files, code, stands('2026-10-04'));
    expect(await forecastsOf(plain, stands('2026-10-05'))).toEqual([]);
  });
});
