import type { CurveView } from '../../../server/src/protocol/panel/curveView.ts';
import type { PanelData } from '../../../server/src/protocol/panel/panelData.ts';
import { techniqueActions, type ViewActions } from '../actions.ts';
import { drawCurve } from '../charts/curveChart.ts';
import {
  ensureChild,
  labelledSelect,
  renderFacts,
  ensureSvgChild,
  setText,
  renderDataTable,
  type HtmlSelection,
} from '../dom.ts';
import { renderFigure } from '../figure.ts';
import { renderLegend, swatchLine, swatchSize } from '../legend.ts';

/** One technique: the counts of its logs, its estimated landing rates, and the forecast with practice. */
export function showCurve(
  place: HtmlSelection,
  curve: CurveView,
  techniques: PanelData['techniques'],
  actions: ViewActions,
): void {
  const choice = labelledSelect(
    place,
    'technique',
    'Technique',
    techniques,
    ({ technique, name }) => ({ value: technique, text: name }),
    { value: curve.technique, act: (technique) => actions.look({ view: 'curve', technique }) },
  );
  setText(ensureChild(choice, 'span', 'tag'), curve.standingText);
  renderFacts(place, 'curve-facts', curve.facts);
  const chart = renderFigure(
    place,
    `curve-of-${curve.technique}`,
    `Landing rate of ${curve.name} over time`,
    curve.summary,
    curve,
    actions,
    (drawing, width) => drawCurve(drawing, curve, width),
  );
  // Only the figure of this technique stays.
  for (const other of place.node()?.querySelectorAll('figure') ?? []) {
    if (other !== chart.node()) other.remove();
  }
  showLegend(chart, curve);
  renderDataTable(
    chart,
    'results-table',
    'Logged results as a table',
    ['Day', 'Result'],
    curve.results.map(({ date, text }) => [date, text]),
  );
  renderDataTable(
    chart,
    'points-table',
    'Landing rates as a table',
    ['Morning', 'In practice', 'In a run', 'Kind'],
    curve.points.map(({ date, practiceText, runText, ahead }) => [
      date,
      practiceText,
      runText,
      ahead ? 'forecast' : 'estimate',
    ]),
  );
  const last = place.node()?.lastElementChild;
  techniqueActions(place, curve, actions, 'curve');
  const bar = ensureChild(place, 'div', 'actions').node();
  if (bar && last !== bar) place.node()?.append(bar);
}

/** Explains the marks of the chart. */
function showLegend(place: HtmlSelection, { forecastText, breakEvenText, results }: CurveView): void {
  const has = (kind: string): boolean => results.some((result) => result.kind === kind);
  const entries = [
    ...(has('run') ? [{ kind: 'run-result', text: 'results in runs, larger for more tries' }] : []),
    ...(has('practice')
      ? [{ kind: 'practice-result', text: 'results in practice, larger for more tries' }]
      : []),
    { kind: 'run-line', text: 'rate in a run, with its 80 % band' },
    { kind: 'practice-line', text: 'rate in practice' },
    { kind: 'forecast', text: `after today: forecast ${forecastText}` },
    ...(breakEvenText === null ? [] : [{ kind: 'edge', text: 'break-even: above it, trying pays' }]),
  ];
  const lines: Readonly<Record<string, string>> = {
    'run-line': 'run-past',
    'practice-line': 'practice-past',
    forecast: 'run-ahead',
  };
  renderLegend(place, entries, (swatch, kind) => {
    if (kind === 'run-result')
      ensureSvgChild(swatch, 'path', 'result').classed('run', true).attr('d', 'M11,1L16,6L11,11L6,6Z');
    else if (kind === 'practice-result') {
      ensureSvgChild(swatch, 'circle', 'result')
        .classed('practice', true)
        .attr('cx', 11)
        .attr('cy', 6)
        .attr('r', 4);
    } else {
      if (kind === 'run-line')
        ensureSvgChild(swatch, 'rect', 'band-past')
          .attr('width', swatchSize.width)
          .attr('height', swatchSize.height);
      swatchLine(swatch, lines[kind] ?? 'break-even');
    }
  });
}
