import type { ReviewedRow, ReviewView } from '../../protocol/panel/reviewView.ts';
import { formatCount, formatList, formatPercent } from '../../text/format.ts';
import type { Page } from '../page.ts';
import type { ReviewReport, ReviewRow } from '../review/reviewReport.ts';
import { countText } from '../review/reviewReason.ts';
import { reviewPeriod } from '../review/reviewText.ts';
import { panelParts } from './panelParts.ts';
import { techniqueName, type PanelNames } from './panelNames.ts';

/**
 * The review of a week as the panel shows it.
 *
 * @param page the same review in words
 */
export function reviewView(report: ReviewReport, page: Page, names: PanelNames): ReviewView {
  const rows = report.techniques
    .filter(({ week }) => week.run.tries > 0)
    .map((row) => reviewedRow(row, names))
    .sort((a, b) => Number(b.slipped) - Number(a.slipped));
  return { summary: summaryText(report, rows), rows, parts: panelParts(page.parts) };
}

function reviewedRow({ technique, week, slip }: ReviewRow, names: PanelNames): ReviewedRow {
  const { landed, tries } = week.run;
  const expected = slip?.expected ?? null;
  const slipped = slip?.slipped === true;
  const landedText = countText(week.run);
  const expectedShare = expected === null ? null : formatPercent(expected / tries);
  return {
    technique,
    name: techniqueName(names, technique),
    tries,
    landed,
    expected,
    slipped,
    landedText,
    expectedText: expectedShare ?? 'not tried in the four weeks before',
    words: `landed ${landedText}${expectedShare === null ? '' : `, expected ${expectedShare}`}`,
    verdict: slipped ? 'slipped' : expected === null ? 'nothing to compare with' : 'no slip found',
  };
}

function summaryText(report: ReviewReport, rows: readonly ReviewedRow[]): string {
  const period = reviewPeriod(report);
  if (rows.length === 0) return `No technique was tried in a run ${period}, so no slip can be looked for.`;
  const slipped = rows.filter((row) => row.slipped);
  const tried = `${formatCount(rows.length, 'technique')} ${rows.length === 1 ? 'was' : 'were'} tried in runs ${period}.`;
  if (slipped.length === 0) return `${tried} No new slip was found.`;
  const counted = slipped.map(({ name, words }) => `${name} (${words})`);
  return `${tried} Slipped: ${formatList(counted)}.`;
}
