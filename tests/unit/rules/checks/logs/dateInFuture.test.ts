import { describe, expect, it } from 'vitest';
import { practiced, runs } from '../../builders/plainLogs.ts';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, fixed } from '../../marked.ts';

describe('date-in-future', () => {
  it('is found only against a given date', async () => {
    const files = (mark: (date: string) => string) => ({
      ...practiced(`start: 2026-10-06T03:59`, `start: ${mark('2026-10-06T04:00')}`),
      'a.runs.yaml': runs('start: 2026-10-05T23:59', `date: ${mark('2026-10-07')}, runs: 2`),
    });
    await expectMarked(
      files((date) => `⟦${date}⟧`),
      'date-in-future',
      { today: '2026-10-05' },
    );
    await expectMarked(
      files((date) => date),
      'date-in-future',
    );
    await expectMarked(
      files((date) => date),
      'date-in-future',
      { today: '2026-10-07' },
    );
  });

  it.each([
    ['2027-10-05T19:30', '2026-10-06', '2026-10-05T19:30'],
    // In January, the new year is easily written for the old one's last evenings.
    ['2027-12-20', '2027-01-05', '2026-12-20'],
    // A month that is wrong: a year earlier would be no better.
    ['2026-12-08', '2026-11-28', '2026-12-08'],
    ['2028-02-29', '2027-03-01', '2028-02-29'],
  ])('with %s on %s writes %s', async (written, today, result) => {
    const files = practiced('start: 2026-08-01', `start: ${written}`);
    const after = await fixed(files, { today });
    expect(after).toEqual(practiced('start: 2026-08-01', `start: ${result}`));
  });
});

describeFixOnSample(
  'date-in-future',
  [
    { file: 'practice', from: 'start: 2026-11-04T19:25', to: 'start: 2027-11-04T19:25' },
    { file: 'runs', from: 'date: 2026-11-07', to: 'date: 2027-11-07' },
  ],
  { restores: true },
);
