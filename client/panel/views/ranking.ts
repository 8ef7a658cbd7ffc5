import type { RankedRow, RankingView, SkippedRow } from '../../../server/src/protocol/panel/rankingView.ts';
import type { StandingFields } from '../../../server/src/protocol/standing.ts';
import type { TechniqueStatus } from '../../../server/src/protocol/panel/viewParts.ts';
import { techniqueActions, type ViewActions } from '../actions.ts';
import { drawRanking, greatestGain } from '../charts/rankingChart.ts';
import {
  ensureButton,
  ensureChild,
  labelledSelect,
  renderList,
  renderFacts,
  renderTexts,
  ensureSvgChild,
  selectElement,
  setProse,
  setText,
  type HtmlSelection,
} from '../dom.ts';
import { drawingToSvg } from '../figure.ts';

/** The techniques whose rows the person has opened. */
const openRows = new Set<string>();

/** The ranking as a table whose rows can be opened. */
export function showRanking(place: HtmlSelection, ranking: RankingView, actions: ViewActions): void {
  showObjectives(place, ranking, actions);
  const head = ensureChild(place, 'div', 'table-head');
  setText(ensureChild(head, 'span', 'caption'), ranking.axisLabel);
  ensureButton(
    head,
    'save',
    'Save SVG',
    () => saveRanking(place, ranking, actions),
    `Save SVG: ${ranking.axisLabel}`,
  );
  const table = ensureChild(place, 'table', 'ranking').attr('aria-label', `Ranking. ${ranking.axisLabel}`);
  const columns = ensureChild(ensureChild(table, 'thead', 'thead'), 'tr', 'tr');
  setText(ensureChild(columns, 'th', 'h-place').attr('scope', 'col'), 'Place');
  setText(ensureChild(columns, 'th', 'h-name').attr('scope', 'col'), 'Technique');
  setText(ensureChild(columns, 'th', 'h-gain').attr('scope', 'col'), 'Gain, 80 % range');
  setText(ensureChild(columns, 'th', 'h-hours').attr('scope', 'col'), 'Practice');
  const most = greatestGain(ranking);
  renderList(
    table,
    'tbody',
    'ranked',
    actions.rows.of(table, ranking.rows, ({ technique }) => technique),
    ({ key }) => key,
    (body, { item, gone }, index) => {
      // Its numbers stay as they were, and where it stands and its buttons are as they are now.
      const row = gone ? { ...item, ...statusIn(ranking.skipped, item.technique) } : item;
      showRow(body.classed('gone', gone), { row, index }, { most, setMark: ranking.setMark }, actions);
    },
  );
  addRowNavigation(table);
  showSkipped(place, ranking, actions);
  setText(
    ensureChild(place, 'p', 'preference').classed('absent', ranking.preferenceText === null),
    ranking.preferenceText ?? '',
  );
  setText(ensureChild(place, 'p', 'runner'), ranking.runnerText);
}

/** Lets the person choose the ranking's objective, where there are several. */
function showObjectives(
  place: HtmlSelection,
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
  setText(ensureChild(place, 'p', 'target-text').classed('absent', targetText === null), targetText ?? '');
}

/** What all rows of a ranking show alike: the greatest gain, and the mark of the practice set. */
interface SharedByRows extends Pick<RankingView, 'setMark'> {
  readonly most: number;
}

/** The data that each row shows, as JSON: an edit changes few rows of many, and only those are drawn again. */
const drawn = new WeakMap<Element, string>();

/**
 * What is said now of a technique that another list has: where it stands, and its entries in the week file.
 *
 * @returns nothing where that list does not have it
 */
function statusIn(rows: readonly SkippedRow[], technique: string): Partial<TechniqueStatus> {
  const found = rows.find((row) => row.technique === technique);
  if (!found) return {};
  const { standing, standingText, inSet, pinned, leftOut } = found;
  return { standing, standingText, inSet, pinned, leftOut };
}

function showRow(
  body: HtmlSelection,
  { row, index }: { readonly row: RankedRow; readonly index: number },
  shared: SharedByRows,
  actions: ViewActions,
): void {
  const { most, setMark } = shared;
  const isOpen = openRows.has(row.technique);
  const node = body.node();
  const key = JSON.stringify([row, index, isOpen, shared]);
  if (!node || drawn.get(node) === key) return;
  drawn.set(node, key);
  showPackage(body, row);
  const line = ensureChild(body, 'tr', 'line').classed('in-package', row.inPackage);
  setText(ensureChild(line, 'td', 'place'), String(row.place));
  const name = ensureChild(line, 'th', 'name').attr('scope', 'row');
  ensureButton(name, 'opener', row.name, () => {
    if (!openRows.delete(row.technique)) openRows.add(row.technique);
    actions.redraw();
  })
    .attr('aria-expanded', String(isOpen))
    .attr('aria-controls', `row-${index}`);
  showStanding(name, row, setMark);
  const gain = ensureChild(line, 'td', 'gain');
  drawRange(gain, row, most);
  const words = ensureChild(gain, 'span', 'words');
  setText(ensureChild(words, 'span', 'range-text'), row.gainText);
  setText(ensureChild(words, 'span', 'expected'), row.expectedText);
  setProse(ensureChild(words, 'span', 'narrow-hours'), `Practice ${row.hoursText}`);
  setText(ensureChild(line, 'td', 'hours'), row.hoursText);

  const detail = ensureChild(body, 'tr', 'detail')
    .attr('id', `row-${index}`)
    .attr('hidden', isOpen ? null : '');
  const cell = ensureChild(detail, 'td', 'cell').attr('colspan', 4);
  if (!isOpen) return;
  renderTexts(ensureChild(cell, 'ul', 'plain'), 'li', 'plain-line', row.lines, setProse);
  setProse(ensureChild(cell, 'p', 'reason'), row.reason);
  renderFacts(cell, 'row-facts', row.facts);
  techniqueActions(cell, row, actions, 'ranking');
}

/** The row of a package, above its first member. */
function showPackage(body: HtmlSelection, { package: whole }: RankedRow): void {
  const line = ensureChild(body, 'tr', 'package').attr('hidden', whole === null ? '' : null);
  setText(ensureChild(line, 'td', 'place'), whole?.places ?? '');
  setText(ensureChild(line, 'th', 'name').attr('scope', 'row'), whole?.name ?? '');
  const words = ensureChild(ensureChild(line, 'td', 'gain'), 'span', 'words');
  setText(ensureChild(words, 'span', 'together'), whole?.gainText ?? '');
  setProse(ensureChild(words, 'span', 'narrow-hours'), `Practice ${whole?.hoursText ?? ''}`);
  setText(ensureChild(line, 'td', 'hours'), whole?.hoursText ?? '');
}

/** Where a technique stands, and whether it is in the practice set, in words. */
function showStanding(place: HtmlSelection, { standingText, inSet }: StandingFields, setMark: string): void {
  setText(ensureChild(place, 'span', 'tag'), standingText);
  setText(ensureChild(place, 'span', 'set-mark').classed('absent', !inSet), inSet ? setMark : '');
}

/**
 * A row's range as a line with a dot at the mean. Its places are percentages of the width, so the width need not be
 * measured.
 */
function drawRange(cell: HtmlSelection, { gain }: RankedRow, most: number): void {
  const at = (value: number): string => `${(2 + (96 * value) / most).toFixed(2)}%`;
  const drawing = ensureSvgChild(cell, 'svg', 'range').attr('aria-hidden', 'true').attr('height', 10);
  ensureSvgChild(drawing, 'line', 'ground')
    .attr('x1', at(0))
    .attr('x2', at(most))
    .attr('y1', 5)
    .attr('y2', 5);
  ensureSvgChild(drawing, 'line', 'whisker')
    .attr('x1', at(gain.low))
    .attr('x2', at(gain.high))
    .attr('y1', 5)
    .attr('y2', 5);
  ensureSvgChild(drawing, 'circle', 'mean').attr('cx', at(gain.mean)).attr('cy', 5).attr('r', 4);
}

function showSkipped(
  place: HtmlSelection,
  { rows: ranked, skipped, setMark }: RankingView,
  actions: ViewActions,
): void {
  const details = ensureChild(place, 'details', 'skipped');
  setText(ensureChild(details, 'summary', 'summary'), `Not ranked (${skipped.length})`);
  const list = ensureChild(details, 'ul', 'skipped-list');
  const rows = actions.rows.of(list, skipped, ({ technique }) => technique);
  details.classed('absent', rows.length === 0);
  renderList(
    list,
    'li',
    'skip',
    rows,
    ({ key }) => key,
    (item, { item: known, gone }) => {
      const row = gone ? { ...known, ...statusIn(ranked, known.technique) } : known;
      item.classed('gone', gone);
      setText(ensureChild(item, 'span', 'name'), row.name);
      showStanding(item, row, setMark);
      setText(ensureChild(item, 'span', 'reason'), row.reason);
      techniqueActions(item, row, actions, 'ranking');
    },
  );
}

/** Up, Down, Home and End move the focus between rows; Tab leaves the table. */
function addRowNavigation(table: HtmlSelection): void {
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

function saveRanking(place: HtmlSelection, ranking: RankingView, actions: ViewActions): void {
  const aside = ensureChild(place, 'div', 'aside').attr('aria-hidden', 'true');
  const drawing = ensureSvgChild(aside, 'svg', 'chart');
  const width = Math.max(480, actions.width);
  const height = drawRanking(drawing, ranking, width);
  drawing.attr('width', width).attr('height', height).attr('viewBox', `0 0 ${width} ${height}`);
  const node = drawing.node();
  if (node instanceof SVGElement)
    actions.send({ type: 'save', name: 'ranking', drawing: drawingToSvg(node) });
  aside.remove();
}
