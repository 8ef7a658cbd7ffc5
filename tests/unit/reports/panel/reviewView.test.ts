import { describe, expect, it } from 'vitest';
import type { PanelNames } from '../../../../server/src/reports/panel/panelNames.ts';
import { reviewView } from '../../../../server/src/reports/panel/reviewView.ts';
import type { ReviewReport, ReviewRow } from '../../../../server/src/reports/review/reviewReport.ts';

const names: PanelNames = {
  othersOf: () => null,
  techniques: new Map([['hop', 'Lamp hop']]),
  segments: new Map(),
  pinned: new Set(),
  leftOut: new Set(),
  needs: new Map(),
};

/** The one row of a review in which so many tries landed where so many were expected. */
function rowOf(landed: number, tries: number, expected: number | null) {
  const row = {
    technique: 'hop',
    week: { practice: { landed: 0, tries: 0 }, run: { landed, tries } },
    slip: expected === null ? null : { expected, slipped: false },
  } as ReviewRow;
  const report = {
    week: { from: '2026-11-23', to: '2026-11-29' },
    asOf: '2026-11-30',
    techniques: [row],
  } as unknown as ReviewReport;
  const { summary, rows } = reviewView(report, { parts: [] }, names);
  return { summary, row: rows[0]! };
}

describe('a row of the review', () => {
  it('says what was expected as a share, as its axis does', () => {
    expect(rowOf(1, 1, 0.75).row).toMatchObject({
      words: 'landed 1 of 1, expected 75 %',
      expectedText: '75 %',
    });
    expect(rowOf(4, 20, 15.8).row).toMatchObject({ words: 'landed 4 of 20, expected 79 %' });
    expect(rowOf(4, 20, null).row).toMatchObject({
      words: 'landed 4 of 20',
      expectedText: 'not tried in the four weeks before',
    });
  });

  it('belongs to days that the summary names, the day of the answer included', () => {
    expect(rowOf(1, 1, 0.75).summary).toBe(
      '1 technique was tried in runs from 2026-11-23 to 2026-11-30. No new slip was found.',
    );
  });
});
