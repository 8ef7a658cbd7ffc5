import { describe, it } from 'vitest';
import { practiced, runs } from '../../builders/plainLogs.ts';
import { expectMarked } from '../../marked.ts';

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
});
