import { max, min } from 'd3';
import type { ResetPoint, RunView } from '../../../server/src/protocolPanel.ts';
import type { Actions } from '../actions.ts';
import { drawRun } from '../charts/runChart.ts';
import { child, each, facts, part, say, tableBehind, type HtmlPlace } from '../dom.ts';
import { figure } from '../drawing.ts';

/** The run: its time, the target, and where a new run is better. */
export function showRun(place: HtmlPlace, run: RunView, actions: Actions): void {
  say(child(place, 'p', 'summary'), run.summary);
  facts(place, 'run-facts', run.facts);
  if (run.bins.length > 0) {
    const chart = figure(
      place,
      'final-times',
      'Final times of runs that finish',
      run.summary,
      run,
      actions,
      (drawing, width) => drawRun(drawing, run, width),
    );
    tableBehind(
      chart,
      'times-table',
      'Final times as a table',
      ['Final time', 'Share of finished runs'],
      run.bins.map(({ label, text }) => [label, text]),
    );
  }
  say(child(place, 'h2', 'reset-title'), 'Reset line');
  say(child(place, 'p', 'reset-text'), run.resetText);
  showLine(place, run.resetLine);
}

function showLine(place: HtmlPlace, line: readonly ResetPoint[]): void {
  const table = child(place, 'table', 'reset-line')
    .attr('aria-label', 'Reset line by segment')
    .classed('absent', line.length === 0);
  const head = child(child(table, 'thead', 'thead'), 'tr', 'tr');
  say(child(head, 'th', 'h-after').attr('scope', 'col'), 'After');
  say(child(head, 'th', 'h-usual').attr('scope', 'col'), 'Usual clock');
  say(child(head, 'th', 'h-reset').attr('scope', 'col'), 'Reset');
  say(child(head, 'th', 'h-room').attr('scope', 'col'), 'Against usual');
  const low = Math.min(0, min(line, ({ room }) => room ?? 0) ?? 0);
  const high = Math.max(1, max(line, ({ room }) => room ?? 0) ?? 0);
  const at = (seconds: number): string => `${(4 + (92 * (seconds - low)) / (high - low)).toFixed(2)}%`;
  each(
    child(table, 'tbody', 'tbody'),
    'tr',
    'row',
    line,
    ({ segment }) => segment,
    (row, point) => {
      say(child(row, 'th', 'after').attr('scope', 'row'), point.name);
      say(child(row, 'td', 'usual'), point.usualText);
      say(child(row, 'td', 'reset'), point.text);
      const cell = child(child(row, 'td', 'room'), 'div', 'beside');
      say(child(cell, 'span', 'room-text'), point.roomText);
      const drawing = part(cell, 'svg', 'range').attr('aria-hidden', 'true').attr('height', 10);
      const far = point.room ?? 0;
      part(drawing, 'line', 'zero').attr('x1', at(0)).attr('x2', at(0)).attr('y1', 0).attr('y2', 10);
      part(drawing, 'line', 'whisker')
        .classed('absent', point.room === null)
        .attr('x1', at(0))
        .attr('x2', at(far))
        .attr('y1', 5)
        .attr('y2', 5);
      part(drawing, 'circle', 'mean')
        .classed('absent', point.room === null)
        .attr('cx', at(far))
        .attr('cy', 5)
        .attr('r', 3);
    },
  );
}
