import type { PanelPart } from '../../server/src/protocol/panel/pageParts.ts';
import {
  ensureChild,
  renderFacts,
  renderList,
  renderTexts,
  setProse,
  setText,
  type HtmlSelection,
} from './dom.ts';

type TablePart = Extract<PanelPart, { readonly kind: 'table' }>;

/** The parts of a report: headings, sentences, lists, facts and tables. */
export function renderParts(parent: HtmlSelection, name: string, parts: readonly PanelPart[]): void {
  renderList(
    ensureChild(parent, 'div', name),
    'div',
    'part',
    parts,
    (part, index) => `${part.kind} ${index}`,
    renderPart,
  );
}

function renderPart(place: HtmlSelection, part: PanelPart): void {
  switch (part.kind) {
    case 'heading':
      setText(ensureChild(place, 'h2', 'heading'), part.text);
      return;
    case 'prose':
      setProse(ensureChild(place, 'p', 'prose'), part.text);
      return;
    case 'list':
      renderList(
        ensureChild(place, 'ul', 'items'),
        'li',
        'item',
        part.items,
        (_, index) => String(index),
        (item, { name, text }) => {
          setText(ensureChild(item, 'span', 'name').classed('absent', name === null), name ?? '');
          setProse(ensureChild(item, 'span', 'text'), text);
        },
      );
      return;
    case 'facts':
      renderFacts(place, 'part-facts', part.rows);
      return;
    case 'table':
      renderTable(place, part.name, part);
  }
}

/**
 * A table that is always open. The first cell of a row is its heading.
 *
 * @param name what the table is of, for screen readers
 */
export function renderTable(
  parent: HtmlSelection,
  name: string,
  { columns, rows }: Pick<TablePart, 'columns' | 'rows'>,
): HtmlSelection {
  const wide = ensureChild(parent, 'div', 'sideways')
    .attr('role', 'group')
    .attr('tabindex', '0')
    .attr('aria-label', name);
  const table = ensureChild(wide, 'table', 'report-table').attr('aria-label', name);
  const alignment = (index: number): boolean => columns[index]?.align === 'right';
  const head = ensureChild(ensureChild(table, 'thead', 'thead'), 'tr', 'tr');
  renderList(
    head,
    'th',
    'th',
    columns,
    (_, index) => String(index),
    (cell, { title }, index) => {
      setText(cell.attr('scope', 'col').classed('number', alignment(index)), title);
    },
  );
  renderList(
    ensureChild(table, 'tbody', 'tbody'),
    'tr',
    'row',
    rows,
    (_, index) => String(index),
    (row, cells) => {
      setText(ensureChild(row, 'th', 'first').attr('scope', 'row'), cells[0] ?? '');
      renderTexts(row, 'td', 'cell', cells.slice(1), setProse);
      row.selectAll('td').classed('number', (_, index) => alignment(index + 1));
    },
  );
  return wide;
}
