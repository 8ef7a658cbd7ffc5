import type { RankedRow, RankingView } from '../../../server/src/protocol/panel.ts';
import { techniqueActions, type ViewActions } from '../actions.ts';
import { drawRanking, greatestGain } from '../charts/rankingChart.ts';
import {
  button,
  child,
  labelledSelect,
  each,
  renderFacts,
  part,
  selectElement,
  say,
  type HtmlPlace,
} from '../dom.ts';
import { drawingToSvg } from '../figure.ts';

/** Rows that the person has opened, by technique. */
const openRows = new Set<string>();

/** The ranking as a table of rows that open. */
export function showRanking(place: HtmlPlace, ranking: RankingView, actions: ViewActions): void {
  showObjectives(place, ranking, actions);
  const head = child(place, 'div', 'table-head');
  say(child(head, 'span', 'caption'), ranking.axisLabel);
  button(
    head,
    'save',
    'Save SVG',
    () => saveRanking(place, ranking, actions),
    `Save SVG: ${ranking.axisLabel}`,
  );
  const table = child(place, 'table', 'ranking').attr('aria-label', `Ranking. ${ranking.axisLabel}`);
  const columns = child(child(table, 'thead', 'thead'), 'tr', 'tr');
  say(child(columns, 'th', 'h-place').attr('scope', 'col'), 'Place');
  say(child(columns, 'th', 'h-name').attr('scope', 'col'), 'Technique');
  say(child(columns, 'th', 'h-gain').attr('scope', 'col'), 'Gain, 80 % range');
  say(child(columns, 'th', 'h-hours').attr('scope', 'col'), 'Practice');
  const most = greatestGain(ranking);
  each(
    table,
    'tbody',
    'ranked',
    ranking.rows,
    ({ technique }) => technique,
    (body, row) => showRow(body, row, most, actions),
  );
  addRowNavigation(table);
  showSkipped(place, ranking, actions);
  say(child(place, 'p', 'runner'), ranking.runnerText);
}

/** What the ranking is by, where there is a choice. */
function showObjectives(
  place: HtmlPlace,
  { objectives, targetText }: RankingView,
  actions: ViewActions,
): void {
  labelledSelect(
    place,
    'objective',
    'Ranked by',
    objectives,
    ({ objective, label }) => ({ value: objective, text: label }),
    {
      value: actions.objective,
      act: (objective) => actions.rankBy(objective),
    },
  ).classed('absent', objectives.length < 2);
  say(child(place, 'p', 'target-text').classed('absent', targetText === null), targetText ?? '');
}

/** What each row was drawn from last: of many rows, an edit changes few. */
const drawn = new WeakMap<Element, string>();

function showRow(body: HtmlPlace, row: RankedRow, most: number, actions: ViewActions): void {
  const isOpen = openRows.has(row.technique);
  const node = body.node();
  const key = JSON.stringify([row, isOpen, most]);
  if (!node || drawn.get(node) === key) return;
  drawn.set(node, key);
  const line = child(body, 'tr', 'line');
  say(child(line, 'td', 'place'), String(row.place));
  const name = child(line, 'th', 'name').attr('scope', 'row');
  button(name, 'opener', row.name, () => {
    if (!openRows.delete(row.technique)) openRows.add(row.technique);
    actions.redraw();
  })
    .attr('aria-expanded', String(isOpen))
    .attr('aria-controls', `row-${row.place}`);
  say(child(name, 'span', 'tag'), row.stateText);
  const gain = child(line, 'td', 'gain');
  drawRange(gain, row, most);
  const words = child(gain, 'span', 'words');
  say(child(words, 'span', 'range-text'), row.gainText);
  say(child(words, 'span', 'expected'), row.expectedText);
  say(child(line, 'td', 'hours'), row.hoursText);

  const detail = child(body, 'tr', 'detail')
    .attr('id', `row-${row.place}`)
    .attr('hidden', isOpen ? null : '');
  const cell = child(detail, 'td', 'cell').attr('colspan', 4);
  if (!isOpen) return;
  say(child(cell, 'p', 'reason'), row.reason);
  renderFacts(cell, 'row-facts', row.facts);
  techniqueActions(cell, row, actions, 'ranking');
}

/** A row's range as a line with a dot at the mean, in shares of the width: it needs no measuring. */
function drawRange(cell: HtmlPlace, { gain }: RankedRow, most: number): void {
  const at = (value: number): string => `${(2 + (96 * value) / most).toFixed(2)}%`;
  const drawing = part(cell, 'svg', 'range').attr('aria-hidden', 'true').attr('height', 10);
  part(drawing, 'line', 'ground').attr('x1', at(0)).attr('x2', at(most)).attr('y1', 5).attr('y2', 5);
  part(drawing, 'line', 'whisker')
    .attr('x1', at(gain.low))
    .attr('x2', at(gain.high))
    .attr('y1', 5)
    .attr('y2', 5);
  part(drawing, 'circle', 'mean').attr('cx', at(gain.mean)).attr('cy', 5).attr('r', 4);
}

function showSkipped(place: HtmlPlace, { skipped }: RankingView, actions: ViewActions): void {
  const details = child(place, 'details', 'skipped').classed('absent', skipped.length === 0);
  say(child(details, 'summary', 'summary'), `Not ranked (${skipped.length})`);
  each(
    child(details, 'ul', 'skipped-list'),
    'li',
    'skip',
    skipped,
    ({ technique }) => technique,
    (item, row) => {
      say(child(item, 'span', 'name'), row.name);
      say(child(item, 'span', 'tag'), row.stateText);
      say(child(item, 'span', 'reason'), row.reason);
      techniqueActions(item, row, actions, 'ranking');
    },
  );
}

/** Up, Down, Home and End go from row to row; Tab goes past them all. */
function addRowNavigation(table: HtmlPlace): void {
  const node = table.node();
  if (!node) return;
  const openers = [...node.querySelectorAll<HTMLElement>('.opener')];
  const current = openers.find((one) => one.tabIndex === 0 && one.dataset['roved'] === 'yes') ?? openers[0];
  for (const one of openers) one.tabIndex = one === current ? 0 : -1;
  const go = (to: HTMLElement | undefined): void => {
    if (!to) return;
    for (const one of openers) {
      one.tabIndex = one === to ? 0 : -1;
      one.dataset['roved'] = one === to ? 'yes' : '';
    }
    to.focus();
  };
  selectElement(node).on('keydown', (event: KeyboardEvent) => {
    const at = openers.findIndex((one) => one === event.target);
    if (at < 0) return;
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: openers.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    go(openers[to]);
  });
}

function saveRanking(place: HtmlPlace, ranking: RankingView, actions: ViewActions): void {
  const aside = child(place, 'div', 'aside').attr('aria-hidden', 'true');
  const drawing = part(aside, 'svg', 'chart');
  const width = Math.max(480, actions.width);
  const height = drawRanking(drawing, ranking, width);
  drawing.attr('width', width).attr('height', height).attr('viewBox', `0 0 ${width} ${height}`);
  const node = drawing.node();
  if (node instanceof SVGElement)
    actions.send({ type: 'save', name: 'ranking', drawing: drawingToSvg(node) });
  aside.remove();
}
