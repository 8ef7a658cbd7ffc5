import type { OddsView, ResetPoint } from '../../../server/src/protocol/panel/oddsView.ts';
import type { RemedyOffer } from '../../../server/src/protocol/panel/remedies.ts';
import type { ViewActions } from '../actions.ts';
import { drawFinalTimes } from '../charts/finalTimesChart.ts';
import {
  ensureChild,
  ensureSvgChild,
  renderDataTable,
  renderFacts,
  renderTexts,
  setProse,
  setText,
  type HtmlSelection,
} from '../dom.ts';
import { renderFigure } from '../figure.ts';
import { renderLegend, swatchSize } from '../legend.ts';
import { renderTable } from '../parts.ts';
import { renderRemedies } from '../remedies.ts';

/** The odds of a run: its expected time, the chances of a time, and from which times on a reset is better. */
export function showOdds(
  place: HtmlSelection,
  odds: OddsView,
  remedies: readonly RemedyOffer[],
  actions: ViewActions,
): void {
  setProse(ensureChild(place, 'p', 'summary'), odds.summary);
  renderFacts(place, 'odds-facts', odds.facts);
  const chart = renderFigure(
    place,
    'final-times',
    'Final times of runs that finish',
    odds.summary,
    odds,
    actions,
    (drawing, width) => drawFinalTimes(drawing, odds, width),
  ).classed('absent', odds.bins.length === 0);
  renderLegend(
    chart,
    odds.target === null
      ? []
      : [
          { kind: 'under', text: 'faster than the target' },
          { kind: 'over', text: 'the other finished runs' },
        ],
    (swatch, kind) => {
      ensureSvgChild(swatch, 'rect', 'bar')
        .classed('under', kind === 'under')
        .attr('width', swatchSize.width)
        .attr('height', swatchSize.height);
    },
  );
  renderDataTable(
    chart,
    'times-table',
    'Final times as a table',
    ['Final time', 'Share of finished runs'],
    odds.bins.map(({ label, text }) => [label, text]),
  );
  showTable(
    place,
    'chances',
    'Chances',
    ['Faster than', 'Of all runs'],
    odds.chances.map(({ time, chance, isTarget }) => [isTarget ? `${time}, the target` : time, chance]),
  );
  const split = odds.practiseOrRun;
  setText(
    ensureChild(place, 'h2', 'split-title').classed('absent', split === null),
    split ? 'Practise or run?' : '',
  );
  setText(ensureChild(place, 'p', 'split-text').classed('absent', split === null), split?.text ?? '');
  showTable(place, 'splits', 'Ways to divide the hours', split?.columns ?? [], split?.rows ?? [], false);
  showTable(
    place,
    'bests',
    'Best of several finished runs',
    ['Finished runs', 'Expected best'],
    odds.bests.map(({ runs, best }) => [runs, best]),
  );
  setText(ensureChild(place, 'h2', 'reset-title'), 'Reset line');
  setText(ensureChild(place, 'p', 'reset-text'), odds.resetText);
  renderRemedies(place, remedies, actions);
  showTable(
    place,
    'reset-line',
    'Reset line by segment',
    ['At the end of', 'Reset', 'Earlier or later than an average run'],
    odds.resetLine.map(({ name, text, leeway }: ResetPoint) => [name, text, leeway]),
    false,
  );
  setText(ensureChild(place, 'h2', 'basis-title'), 'What this rests on');
  renderTexts(ensureChild(place, 'div', 'basis'), 'p', 'sentence', odds.basis, setProse);
}

/** A table under its own heading; nothing where it has no rows. */
function showTable(
  place: HtmlSelection,
  name: string,
  title: string,
  columns: readonly string[],
  rows: readonly (readonly string[])[],
  withHeading = true,
): void {
  const section = ensureChild(place, 'div', name).classed('absent', rows.length === 0);
  setText(ensureChild(section, 'h2', 'title').classed('absent', !withHeading), withHeading ? title : '');
  renderTable(section, title, {
    columns: columns.map((one) => ({ title: one, align: 'left' as const })),
    rows,
  });
}
