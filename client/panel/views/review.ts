import type { ReviewedRow, ReviewView } from '../../../server/src/protocol/panel/reviewView.ts';
import type { RemedyOffer } from '../../../server/src/protocol/panel/remedies.ts';
import type { ViewActions } from '../actions.ts';
import { drawReview, isApart, landedMark } from '../charts/reviewChart.ts';
import {
  ensureChild,
  ensureSvgChild,
  renderDataTable,
  setProse,
  type HtmlSelection,
  type SvgSelection,
} from '../dom.ts';
import { renderFigure } from '../figure.ts';
import { renderLegend, swatchLine } from '../legend.ts';
import { renderParts } from '../parts.ts';
import { renderRemedies } from '../remedies.ts';

type MarkKind = 'landed' | 'expected' | 'apart' | 'slip';

/** An entry for each mark that the rows have, and for no other. */
function marksOf(rows: readonly ReviewedRow[]): { readonly kind: MarkKind; readonly text: string }[] {
  const others = rows.filter(({ slipped }) => !slipped);
  const entries = [
    { kind: 'landed', text: 'landed in runs', isDrawn: others.length > 0 },
    {
      kind: 'expected',
      text: 'expected, if nothing had slipped',
      isDrawn: rows.some(({ expected }) => expected !== null),
    },
    { kind: 'apart', text: 'how far the two are apart', isDrawn: others.some(isApart) },
    { kind: 'slip', text: 'a slip: landed far less often', isDrawn: others.length < rows.length },
  ] as const;
  return entries.filter(({ isDrawn }) => isDrawn).map(({ kind, text }) => ({ kind, text }));
}

function drawMark(swatch: SvgSelection, kind: MarkKind): void {
  if (kind === 'expected')
    ensureSvgChild(swatch, 'line', 'expected-mark')
      .attr('x1', 11)
      .attr('x2', 11)
      .attr('y1', 0)
      .attr('y2', 12);
  else if (kind === 'apart') swatchLine(swatch, 'between');
  else {
    const slipped = kind === 'slip';
    if (slipped) swatchLine(swatch.classed('slipped', true), 'between');
    ensureSvgChild(swatch, 'path', 'landed-mark')
      .attr('d', landedMark(slipped))
      .attr('transform', `translate(${slipped ? 5 : 11},6)`);
  }
}

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
  renderLegend(chart, marksOf(rows), drawMark);
  renderDataTable(
    chart,
    'review-table',
    'Landed and expected as a table',
    ['Technique', 'Landed in runs', 'Expected', 'Finding'],
    rows.map(({ name, landedText, expectedText, verdict }) => [name, landedText, expectedText, verdict]),
  );
  renderParts(place, 'review-parts', parts);
}
