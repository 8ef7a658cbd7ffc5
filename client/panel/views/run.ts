import type { ResetPoint, RunView } from '../../../server/src/protocol/panel/runView.ts';
import type { ViewActions } from '../actions.ts';
import { drawRun } from '../charts/runChart.ts';
import {
  ensureChild,
  renderList,
  renderFacts,
  setText,
  renderDataTable,
  type HtmlSelection,
} from '../dom.ts';
import { renderFigure } from '../figure.ts';

/** The run: its expected time, the target, and from which times on a reset is better. */
export function showRun(place: HtmlSelection, run: RunView, actions: ViewActions): void {
  setText(ensureChild(place, 'p', 'summary'), run.summary);
  renderFacts(place, 'run-facts', run.facts);
  if (run.bins.length > 0) {
    const chart = renderFigure(
      place,
      'final-times',
      'Final times of runs that finish',
      run.summary,
      run,
      actions,
      (drawing, width) => drawRun(drawing, run, width),
    );
    renderDataTable(
      chart,
      'times-table',
      'Final times as a table',
      ['Final time', 'Share of finished runs'],
      run.bins.map(({ label, text }) => [label, text]),
    );
  }
  setText(ensureChild(place, 'h2', 'reset-title'), 'Reset line');
  setText(ensureChild(place, 'p', 'reset-text'), run.resetText);
  showResetLine(place, run.resetLine);
}

function showResetLine(place: HtmlSelection, line: readonly ResetPoint[]): void {
  const table = ensureChild(place, 'table', 'reset-line')
    .attr('aria-label', 'Reset line by segment')
    .classed('absent', line.length === 0);
  const head = ensureChild(ensureChild(table, 'thead', 'thead'), 'tr', 'tr');
  setText(ensureChild(head, 'th', 'h-after').attr('scope', 'col'), 'At the end of');
  setText(ensureChild(head, 'th', 'h-reset').attr('scope', 'col'), 'Reset');
  setText(ensureChild(head, 'th', 'h-leeway').attr('scope', 'col'), 'Earlier or later than an average run');
  renderList(
    ensureChild(table, 'tbody', 'tbody'),
    'tr',
    'row',
    line,
    ({ segment }) => segment,
    (row, point) => {
      setText(ensureChild(row, 'th', 'after').attr('scope', 'row'), point.name);
      setText(ensureChild(row, 'td', 'reset'), point.text);
      setText(ensureChild(row, 'td', 'leeway'), point.leeway);
    },
  );
}
