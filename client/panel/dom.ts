import { select, type Selection } from 'd3';

/** A place of the page, or of a drawing, to be filled. */
export type Place = Selection<Element, unknown, null, undefined>;
export type HtmlPlace = Place;
export type SvgPlace = Place;

const svgNamespace = 'http://www.w3.org/2000/svg';

/**
 * The child with this tag and class, made at the end where there is none: the second time it is the same element,
 * so that focus, selection and scroll stay.
 */
export function child(parent: HtmlPlace, tag: string, name: string): HtmlPlace {
  const node = parent.node();
  const found = [...(node?.children ?? [])].find((one) => one.classList.contains(name));
  if (found instanceof HTMLElement) return selectElement(found);
  const made = document.createElement(tag);
  made.classList.add(name);
  node?.append(made);
  return selectElement(made);
}

/** The same for parts of a drawing. */
export function part(parent: Place, tag: string, name: string): SvgPlace {
  const node = parent.node();
  const found = [...(node?.children ?? [])].find((one) => one.classList.contains(name));
  if (found instanceof SVGElement) return selectElement(found);
  const made = document.createElementNS(svgNamespace, tag);
  made.classList.add(name);
  node?.append(made);
  return selectElement(made);
}

export function selectElement(element: Element): Place {
  return select<Element, unknown>(element);
}

/** Text of an element, written only where it differs. */
export function say(place: HtmlPlace, text: string): HtmlPlace {
  const node = place.node();
  if (node && node.textContent !== text) node.textContent = text;
  return place;
}

/**
 * One element for each item, known again by its key: what is still there is kept, whatever its new place.
 *
 * @param make called once for a new element
 * @param fill called for every element with its item
 */
export function each<T>(
  parent: HtmlPlace,
  tag: string,
  name: string,
  items: readonly T[],
  key: (item: T, index: number) => string,
  fill: (place: HtmlPlace, item: T, index: number) => void,
  make?: (place: HtmlPlace, item: T) => void,
): void {
  const node = parent.node();
  if (!node) return;
  const known = new Map<string, HTMLElement>();
  for (const one of node.children) {
    if (one instanceof HTMLElement && one.classList.contains(name)) known.set(one.dataset['key'] ?? '', one);
  }
  let before: Element | null = null;
  items.forEach((item, index) => {
    const id = key(item, index);
    let element = known.get(id);
    known.delete(id);
    if (!element) {
      element = document.createElement(tag);
      element.classList.add(name);
      element.dataset['key'] = id;
      make?.(selectElement(element), item);
    }
    const after: Element | null = before ? before.nextElementSibling : firstOf(node, name);
    // What already stands in its place is not moved: moving would take the focus away.
    if (after !== element) node.insertBefore(element, after);
    before = element;
    fill(selectElement(element), item, index);
  });
  for (const left of known.values()) left.remove();
}

function firstOf(node: Element, name: string): Element | null {
  return [...node.children].find((one) => one.classList.contains(name)) ?? null;
}

/** A button that says what it does; made once. */
export function button(
  parent: HtmlPlace,
  name: string,
  text: string,
  act: () => void,
  label?: string,
): HtmlPlace {
  const place = child(parent, 'button', name)
    .attr('type', 'button')
    .attr('aria-label', label ?? null);
  return say(place, text).on('click', act);
}

/** A labelled list to choose one from; the element that it stands in, for what stands beside it. */
export function labelledSelect<T>(
  parent: HtmlPlace,
  id: string,
  label: string,
  items: readonly T[],
  optionOf: (item: T) => { readonly value: string; readonly text: string },
  chosen: { readonly value: string; readonly act: (value: string) => void },
): HtmlPlace {
  const place = child(parent, 'div', 'chooser');
  say(child(place, 'label', 'label').attr('for', id), label);
  const list = child(place, 'select', id).attr('id', id);
  each(
    list,
    'option',
    'option',
    items,
    (item) => optionOf(item).value,
    (option, item) => {
      const { value, text } = optionOf(item);
      say(option.attr('value', value), text);
    },
  );
  const select = list.node();
  if (select instanceof HTMLSelectElement) {
    if (select.value !== chosen.value) select.value = chosen.value;
    list.on('change', () => chosen.act(select.value));
  }
  return place;
}

/** Pairs of a name and a text. */
export function renderFacts(
  parent: HtmlPlace,
  name: string,
  items: readonly { readonly label: string; readonly text: string }[],
): void {
  const list = child(parent, 'dl', name).classed('facts', true);
  each(
    list,
    'div',
    'fact',
    items,
    (_, index) => String(index),
    (place, { label, text }) => {
      say(child(place, 'dt', 'label'), label);
      say(child(place, 'dd', 'text'), text);
    },
  );
}

/** Closed until asked for: the numbers behind a chart. */
export function renderDataTable(
  parent: HtmlPlace,
  name: string,
  caption: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
): void {
  const details = child(parent, 'details', name).classed('behind', true);
  say(child(details, 'summary', 'summary'), caption);
  const table = child(
    child(details, 'div', 'wide').attr('role', 'group').attr('tabindex', '0').attr('aria-label', caption),
    'table',
    'table',
  );
  table.attr('aria-label', caption);
  const headRow = child(child(table, 'thead', 'thead'), 'tr', 'tr');
  each(
    headRow,
    'th',
    'th',
    head,
    (_, i) => String(i),
    (place, text) => {
      say(place.attr('scope', 'col'), text);
    },
  );
  each(
    child(table, 'tbody', 'tbody'),
    'tr',
    'row',
    rows,
    (_, i) => String(i),
    (row, cells) => {
      each(
        row,
        'td',
        'cell',
        cells,
        (_, i) => String(i),
        (cell, text) => {
          say(cell, text);
        },
      );
    },
  );
}
