import { describe, expect, it } from 'vitest';
import type { Standing } from '../../../../../server/src/model/core/standing.ts';
import { log, rate, says, session } from '../../builders/sessions.ts';
import { expectMarkedForecast, forecastsOf } from '../../marked.ts';

describe('gap-in-practice', () => {
  const code = 'gap-in-practice';
  const open = says('rope-swing', 0.3, rate(0.3, 0.2));
  const files = (after: string) =>
    log(
      session('2026-10-01T19:00', 'rope-swing 25'),
      session('2026-10-02T19:00', 'rope-swing 25'),
      session(after, 'rope-swing 25'),
    );
  const week = (rest: string) => ({ 'a.week.yaml': `route: a.route.yaml\n${rest}` });

  it('is found from six days on, and not for days off', async () => {
    await expectMarkedForecast(files('⟦2026-10-09T19:00⟧'), code, open);
    expect(await forecastsOf(files('2026-10-08T19:00'), open)).toEqual([]);
    const off = week('off: [2026-10-05]\n');
    expect(await forecastsOf({ ...files('2026-10-09T19:00'), ...off }, open)).toEqual([]);
  });

  it('is found for what is to be worked on again, too, and not for what is put aside', async () => {
    const { standing: usual, ...rest } = open.get('rope-swing')!;
    const stands = (given: Partial<Standing>) =>
      new Map([['rope-swing', { ...rest, standing: { ...usual, ...given } }]]);
    const again = stands({ kind: 'again', cause: { why: 'costs time' } });
    await expectMarkedForecast(files('⟦2026-10-09T19:00⟧'), code, again);
    const aside = stands({ kind: 'aside', cause: { why: 'put aside by hand' } });
    expect(await forecastsOf(files('2026-10-09T19:00'), aside)).toEqual([]);
  });

  it('counts the days that the week has time on, where it says so', async () => {
    // The 1st of October 2026 is a Thursday: between the 2nd and the 13th lie the 6th, 7th and 8th and no other.
    const days = week('days: { tue: 60, wed: 60, thu: 60 }\n');
    await expectMarkedForecast({ ...files('⟦2026-10-13T19:00⟧'), ...days }, code, open);
    expect(await forecastsOf({ ...files('2026-10-08T19:00'), ...days }, open)).toEqual([]);
  });

  it('is not found where what was practised is competent, or was not taken up again', async () => {
    expect(await forecastsOf(files('2026-10-09T19:00'), says('rope-swing', 0.9))).toEqual([]);
    const another = log(
      session('2026-10-01T19:00', 'rope-swing 25'),
      session('2026-10-02T19:00', 'rope-swing 25'),
      session('2026-10-09T19:00', 'rope-swing 25').replace('rope-swing', 'crate-vault'),
    );
    expect((await forecastsOf(another, open)).map((finding) => finding.code)).not.toContain(code);
  });
});
