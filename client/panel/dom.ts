import { select, type Selection } from 'd3';

/** An element of the page, or of a drawing. */
export type ElementSelection = Selection<Element, unknown, null, undefined>;
export type HtmlSelection = ElementSelection;
export type SvgSelection = ElementSelection;

const svgNamespace = 'http://www.w3.org/2000/svg';

/**
 * The child with this tag and class; where there is none, it is appended. A second call returns the same element, so
 * that focus, selection and scroll position stay.
 */
export function ensureChild(parent: HtmlSelection, tag: string, name: string): HtmlSelection {
  const node = parent.node();
  const found = [...(node?.children ?? [])].find((one) => one.classList.contains(name));
  if (found instanceof HTMLElement) return selectElement(found);
  const created = document.createElement(tag);
  created.classList.add(name);
  node?.append(created);
  return selectElement(created);
}

/** The same for parts of a drawing. */
export function ensureSvgChild(parent: ElementSelection, tag: string, name: string): SvgSelection {
  const node = parent.node();
  const found = [...(node?.children ?? [])].find((one) => one.classList.contains(name));
  if (found instanceof SVGElement) return selectElement(found);
  const created = document.createElementNS(svgNamespace, tag);
  created.classList.add(name);
  node?.append(created);
  return selectElement(created);
}

export function selectElement(element: Element): ElementSelection {
  return select<Element, unknown>(element);
}

/** Sets the text of an element; does nothing where it has that text already. */
export function setText(place: HtmlSelection, text: string): HtmlSelection {
  const node = place.node();
  if (node && node.textContent !== text) node.textContent = text;
  return place;
}

/** Sets the text of an element of several lines: no line ends between a number and its unit, or inside a date. */
export function setProse(place: HtmlSelection, text: string): HtmlSelection {
  const prose = text.replaceAll(/(\d) (?=%|(?:s|min|h)\b)/g, '$1\u00a0');
  const node = place.node();
  if (node && node.textContent !== prose) node.replaceChildren(...withDatesWhole(prose));
  return place;
}

/** A text in parts, with each date in an element that is not broken. */
function withDatesWhole(text: string): (string | Node)[] {
  return text.split(/(\d{4}-\d\d-\d\d)/).map((part, i) => {
    if (i % 2 === 0) return part;
    const date = document.createElement('span');
    date.className = 'date';
    date.textContent = part;
    return date;
  });
}

/**
 * One element for each item, recognised by the item's key: the element of an item that stays in the list is kept, even
 * where its place changes.
 *
 * @param make called once for a new element
 * @param fill called for every element with its item
 */
export function renderList<T>(
  parent: HtmlSelection,
  tag: string,
  name: string,
  items: readonly T[],
  key: (item: T, index: number) => string,
  fill: (place: HtmlSelection, item: T, index: number) => void,
  make?: (place: HtmlSelection, item: T) => void,
): void {
  const node = parent.node();
  if (!node) return;
  const elementsByKey = new Map<string, HTMLElement>();
  for (const one of node.children) {
    if (one instanceof HTMLElement && one.classList.contains(name))
      elementsByKey.set(one.dataset['key'] ?? '', one);
  }
  let before: Element | null = null;
  items.forEach((item, index) => {
    const id = key(item, index);
    let element = elementsByKey.get(id);
    elementsByKey.delete(id);
    if (!element) {
      element = document.createElement(tag);
      element.classList.add(name);
      element.dataset['key'] = id;
      make?.(selectElement(element), item);
    }
    const after: Element | null = before ? before.nextElementSibling : firstOf(node, name);
    // An element that is in its place already is not moved: moving would take the focus away.
    if (after !== element) node.insertBefore(element, after);
    before = element;
    fill(selectElement(element), item, index);
  });
  for (const left of elementsByKey.values()) left.remove();
}

/**
 * One element for each text, recognised by its place in the list.
 *
 * @param set sets the text of an element
 */
export function renderTexts(
  parent: HtmlSelection,
  tag: string,
  name: string,
  texts: readonly string[],
  set: (place: HtmlSelection, text: string) => HtmlSelection = setText,
): void {
  renderList(
    parent,
    tag,
    name,
    texts,
    (_, index) => String(index),
    (place, text) => set(place, text),
  );
}

function firstOf(node: Element, name: string): Element | null {
  return [...node.children].find((one) => one.classList.contains(name)) ?? null;
}

/** A button with a text; created by the first call, the same element afterwards. */
export function ensureButton(
  parent: HtmlSelection,
  name: string,
  text: string,
  act: () => void,
  label?: string,
): HtmlSelection {
  const place = ensureChild(parent, 'button', name)
    .attr('type', 'button')
    .attr('aria-label', label ?? null);
  return setText(place, text).on('click', act);
}

/** A select list with its label. Returns the element around both, so that others can be added to it. */
export function labelledSelect<T>(
  parent: HtmlSelection,
  id: string,
  label: string,
  items: readonly T[],
  optionOf: (item: T) => { readonly value: string; readonly text: string },
  chosen: { readonly value: string; readonly act: (value: string) => void },
): HtmlSelection {
  const place = ensureChild(parent, 'div', 'chooser');
  setText(ensureChild(place, 'label', 'label').attr('for', id), label);
  const list = ensureChild(place, 'select', id).attr('id', id);
  renderList(
    list,
    'option',
    'option',
    items,
    (item) => optionOf(item).value,
    (option, item) => {
      const { value, text } = optionOf(item);
      setText(option.attr('value', value), text);
    },
  );
  const select = list.node();
  if (select instanceof HTMLSelectElement) {
    if (select.value !== chosen.value) select.value = chosen.value;
    list.on('change', () => chosen.act(select.value));
  }
  return place;
}

/** Shows pairs of a name and a text. */
export function renderFacts(
  parent: HtmlSelection,
  name: string,
  items: readonly { readonly label: string; readonly text: string }[],
): void {
  const list = ensureChild(parent, 'dl', name).classed('facts', true);
  renderList(
    list,
    'div',
    'fact',
    items,
    (_, index) => String(index),
    (place, { label, text }) => {
      setText(ensureChild(place, 'dt', 'label'), label);
      setProse(ensureChild(place, 'dd', 'text'), text);
    },
  );
}

/** The numbers behind a chart, as a table that is closed until the person opens it. */
export function renderDataTable(
  parent: HtmlSelection,
  name: string,
  caption: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
): void {
  const details = ensureChild(parent, 'details', name).classed('behind', true);
  setText(ensureChild(details, 'summary', 'summary'), caption);
  const table = ensureChild(
    ensureChild(details, 'div', 'wide')
      .attr('role', 'group')
      .attr('tabindex', '0')
      .attr('aria-label', caption),
    'table',
    'table',
  );
  table.attr('aria-label', caption);
  const headRow = ensureChild(ensureChild(table, 'thead', 'thead'), 'tr', 'tr');
  renderTexts(headRow, 'th', 'th', head, (place, text) => setText(place.attr('scope', 'col'), text));
  renderList(
    ensureChild(table, 'tbody', 'tbody'),
    'tr',
    'row',
    rows,
    (_, i) => String(i),
    (row, cells) => renderTexts(row, 'td', 'cell', cells),
  );
}
