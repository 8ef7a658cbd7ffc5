import type { ReviewView } from '../../../server/src/protocol/panel/reviewView.ts';
import type { RemedyOffer } from '../../../server/src/protocol/panel/remedies.ts';
import type { ViewActions } from '../actions.ts';
import { drawReview } from '../charts/reviewChart.ts';
import { ensureChild, ensureSvgChild, renderDataTable, setProse, type HtmlSelection } from '../dom.ts';
import { renderFigure } from '../figure.ts';
import { renderLegend, swatchLine } from '../legend.ts';
import { renderParts } from '../parts.ts';
import { renderRemedies } from '../remedies.ts';

const marks = [
  { kind: 'landed', text: 'landed in runs in the week' },
  { kind: 'expected', text: 'expected, if nothing had slipped' },
  { kind: 'slip', text: 'a slip' },
] as const;

/** The last week: per technique what landed against what was expected, and where each technique stands. */
export function showReview(
  place: HtmlSelection,
  review: ReviewView,
  remedies: readonly RemedyOffer[],
  actions: ViewActions,
): void {
  const { summary, rows, parts } = review;
  setProse(ensureChild(place, 'p', 'summary'), summary);
  renderRemedies(place, remedies, actions);
  const chart = renderFigure(
    place,
    'landed-expected',
    'Landed in runs against expected, as a share of the tries',
    summary,
    rows,
    actions,
    (drawing, width) => drawReview(drawing, review, width),
  ).classed('absent', rows.length === 0);
  renderLegend(chart, marks, (swatch, kind) => {
    if (kind === 'landed')
      ensureSvgChild(swatch, 'circle', 'landed-mark').attr('cx', 11).attr('cy', 6).attr('r', 4);
    else if (kind === 'expected')
      ensureSvgChild(swatch, 'line', 'expected-mark')
        .attr('x1', 11)
        .attr('x2', 11)
        .attr('y1', 0)
        .attr('y2', 12);
    else swatchLine(swatch.classed('slipped', true), 'between');
  });
  renderDataTable(
    chart,
    'review-table',
    'Landed and expected as a table',
    ['Technique', 'Landed in runs', 'Expected', 'Finding'],
    rows.map(({ name, landedText, expectedText, verdict }) => [name, landedText, expectedText, verdict]),
  );
  renderParts(place, 'review-parts', parts);
}
