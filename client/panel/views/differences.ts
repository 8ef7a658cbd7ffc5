import type { DifferencesView } from '../../../server/src/protocol/panel/differencesView.ts';
import type { ViewActions } from '../actions.ts';
import { drawDifferences } from '../charts/differencesChart.ts';
import { renderDataTable, type HtmlSelection } from '../dom.ts';
import { renderFigure } from '../figure.ts';

/** The chart of two times by segment, with its table. */
export function showDifferences(
  place: HtmlSelection,
  name: string,
  summary: string,
  differences: DifferencesView,
  actions: ViewActions,
): void {
  const { caption, titles, rows } = differences;
  const chart = renderFigure(place, name, caption, summary, differences, actions, (drawing, width) =>
    drawDifferences(drawing, differences, width),
  ).classed('absent', rows.length === 0);
  renderDataTable(
    chart,
    `${name}-table`,
    'The times as a table',
    ['Segment', titles.first, titles.second, 'Difference'],
    rows.map(({ name: segment, first, second, words }) => [segment, first, second, words]),
  );
}
