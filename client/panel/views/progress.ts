import type { ProgressView, TechniqueRates } from '../../../server/src/protocol/panel/progressView.ts';
import type { Remedy, RemedyOffer } from '../../../server/src/protocol/panel/remedies.ts';
import type { ViewActions } from '../actions.ts';
import { drawBestTimes } from '../charts/bestTimesChart.ts';
import { drawHours } from '../charts/hoursChart.ts';
import { drawRates, drawRateMark } from '../charts/ratesChart.ts';
import {
  ensureChild,
  ensureSvgChild,
  labelledSelect,
  renderDataTable,
  renderList,
  setProse,
  setText,
  type HtmlSelection,
} from '../dom.ts';
import { renderFigure } from '../figure.ts';
import { renderLegend, swatchLine, swatchSize } from '../legend.ts';
import { renderRemedies } from '../remedies.ts';

/** A small chart is no narrower than this, in pixels, and there are no more than three beside each other. */
const smallest = 260;
const most = 3;
/** Space between two charts, in pixels; panel.css has the same number. */
const gap = 24;

/** Landing rates of the techniques over the months, all on the same axes, with best times and hours of practice. */
export function showProgress(
  place: HtmlSelection,
  progress: ProgressView,
  remedies: readonly RemedyOffer[],
  actions: ViewActions,
): void {
  showLength(place, progress, actions);
  setProse(ensureChild(place, 'p', 'summary'), progress.summary);
  const ending = (remedy: Remedy): RemedyOffer[] => remedies.filter((one) => one.remedy === remedy);
  showTimes(place, progress, ending('log-run'), actions);
  showHours(place, progress, ending('log-block'), actions);
  showTechniques(place, progress, actions);
}

/** The choice of how many months are shown; nothing where the logs are too short for a choice. */
function showLength(place: HtmlSelection, { months, choices }: ProgressView, actions: ViewActions): void {
  const length = ensureChild(place, 'div', 'length').classed('absent', choices.length === 0);
  labelledSelect(
    length,
    'months',
    'Shown',
    choices,
    (one) => ({ value: String(one.months), text: one.text }),
    {
      value: String(months),
      act: (value) => actions.look({ view: 'progress', technique: null, months: Number(value) }),
    },
  );
}

function showTimes(
  place: HtmlSelection,
  progress: ProgressView,
  remedies: readonly RemedyOffer[],
  actions: ViewActions,
): void {
  const { times } = progress;
  setText(ensureChild(place, 'h2', 'times-title'), 'Best finished time');
  setProse(ensureChild(place, 'p', 'times-text'), times.summary);
  renderRemedies(ensureChild(place, 'div', 'times-lack'), remedies, actions);
  const chart = renderFigure(
    place,
    'best-times',
    'Finished runs and the best time so far',
    times.summary,
    [times, progress.ticks],
    actions,
    (drawing, width) => drawBestTimes(drawing, progress, width),
  ).classed('absent', times.runs.length === 0);
  renderLegend(
    chart,
    [
      { kind: 'run', text: 'a finished run' },
      { kind: 'best', text: 'best time so far' },
    ],
    (swatch, kind) => {
      if (kind === 'best') swatchLine(swatch, 'best-line');
      else ensureSvgChild(swatch, 'circle', 'finished-run').attr('cx', 11).attr('cy', 6).attr('r', 3);
    },
  );
  renderDataTable(chart, 'best-times-table', 'Finished runs as a table', times.columns, times.rows);
}

function showHours(
  place: HtmlSelection,
  progress: ProgressView,
  remedies: readonly RemedyOffer[],
  actions: ViewActions,
): void {
  const { hours } = progress;
  setText(ensureChild(place, 'h2', 'hours-title'), 'Hours of practice');
  setProse(ensureChild(place, 'p', 'hours-text'), hours.summary);
  renderRemedies(ensureChild(place, 'div', 'hours-lack'), remedies, actions);
  const chart = renderFigure(
    place,
    'practice-hours',
    'Hours of practice a week',
    hours.summary,
    [hours, progress.ticks],
    actions,
    (drawing, width) => drawHours(drawing, progress, width),
  ).classed('absent', hours.rows.length === 0);
  renderDataTable(chart, 'hours-table', 'Hours of practice as a table', hours.columns, hours.rows);
}

function showTechniques(place: HtmlSelection, progress: ProgressView, actions: ViewActions): void {
  const { techniques, quietText } = progress;
  const section = ensureChild(place, 'div', 'rates');
  const none = techniques.length === 0;
  setText(ensureChild(section, 'h2', 'rates-title').classed('absent', none), 'Landing rates');
  const key = ensureChild(section, 'div', 'rates-key').classed('absent', none);
  renderLegend(
    key,
    [
      { kind: 'practice', text: 'in practice' },
      { kind: 'run', text: 'in runs' },
      { kind: 'size', text: 'larger: more tries of its kind' },
      { kind: 'range', text: progress.rangeText },
    ],
    (swatch, kind) => {
      const [x, y] = [swatchSize.width / 2, swatchSize.height / 2];
      if (kind === 'practice' || kind === 'run') drawRateMark(swatch, kind, x, y, 5);
      else if (kind === 'size') {
        drawRateMark(swatch, 'practice', 5, y, 2.5);
        drawRateMark(ensureSvgChild(swatch, 'g', 'larger'), 'practice', 15, y, 5.5);
      } else
        ensureSvgChild(swatch, 'line', 'rate-range')
          .attr('x1', x)
          .attr('x2', x)
          .attr('y1', 0)
          .attr('y2', swatchSize.height);
    },
  );
  const columns = Math.max(1, Math.min(most, Math.floor((actions.width + gap) / (smallest + gap))));
  const width = Math.floor((actions.width - (columns - 1) * gap) / columns);
  renderList(
    ensureChild(section, 'div', 'small-charts').attr('data-columns', columns),
    'div',
    'small-chart',
    techniques,
    ({ technique }) => technique,
    (item, technique) => showTechnique(item, technique, progress, { ...actions, width }),
  );
  setProse(ensureChild(section, 'p', 'quiet').classed('absent', quietText === ''), quietText);
}

function showTechnique(
  item: HtmlSelection,
  technique: TechniqueRates,
  progress: ProgressView,
  actions: ViewActions,
): void {
  const { name, standing, practised, summary, practice, run, rows } = technique;
  const { from, until, ticks, mostTries } = progress;
  const chart = renderFigure(
    item,
    `rates-of-${technique.technique}`,
    name,
    `Landing rate. ${summary}`,
    [practice, run, from, until, ticks, mostTries, progress.hours.bars.length],
    actions,
    (drawing, width) => drawRates(drawing, technique, progress, width),
  );
  const head = ensureChild(chart, 'figcaption', 'figcaption');
  setText(ensureChild(head, 'span', 'technique-standing'), standing);
  setProse(ensureChild(head, 'span', 'technique-practised'), practised);
  renderDataTable(chart, 'rates-table', `${name} as a table`, progress.columns, rows);
}
