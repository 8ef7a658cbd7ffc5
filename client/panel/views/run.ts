import type { ResetPoint, RunView } from '../../../server/src/protocol/panel/runView.ts';
import type { ViewActions } from '../actions.ts';
import { drawRun } from '../charts/runChart.ts';
import { child, each, renderFacts, say, renderDataTable, type HtmlPlace } from '../dom.ts';
import { renderFigure } from '../figure.ts';

/** The run: its time, the target, and where a new run is better. */
export function showRun(place: HtmlPlace, run: RunView, actions: ViewActions): void {
  say(child(place, 'p', 'summary'), run.summary);
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
  say(child(place, 'h2', 'reset-title'), 'Reset line');
  say(child(place, 'p', 'reset-text'), run.resetText);
  showResetLine(place, run.resetLine);
}

function showResetLine(place: HtmlPlace, line: readonly ResetPoint[]): void {
  const table = child(place, 'table', 'reset-line')
    .attr('aria-label', 'Reset line by segment')
    .classed('absent', line.length === 0);
  const head = child(child(table, 'thead', 'thead'), 'tr', 'tr');
  say(child(head, 'th', 'h-after').attr('scope', 'col'), 'At the end of');
  say(child(head, 'th', 'h-reset').attr('scope', 'col'), 'Reset');
  say(child(head, 'th', 'h-leeway').attr('scope', 'col'), 'Than an average run');
  each(
    child(table, 'tbody', 'tbody'),
    'tr',
    'row',
    line,
    ({ segment }) => segment,
    (row, point) => {
      say(child(row, 'th', 'after').attr('scope', 'row'), point.name);
      say(child(row, 'td', 'reset'), point.text);
      say(child(row, 'td', 'leeway'), point.leeway);
    },
  );
}
