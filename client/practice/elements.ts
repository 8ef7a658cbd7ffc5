/** The element with an id. @throws where the page has none, which means that the script was loaded by another page */
export function elementById(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (!found) throw new Error(`The page has no ${id}.`);
  return found;
}

/** Sets the text of an element; does nothing where it has that text already, so that a screen reader reads it once. */
export function setText(id: string, text: string): void {
  const element = elementById(id);
  if (element.textContent !== text) element.textContent = text;
}

/** Shows or hides an element. */
export function setShown(id: string, shown: boolean): void {
  elementById(id).hidden = !shown;
}

export function onClick(id: string, act: () => void): void {
  elementById(id).addEventListener('click', act);
}

/** The number in a field; undefined where the field holds none. */
export function numberIn(id: string): number | undefined {
  const field = elementById(id);
  if (!(field instanceof HTMLInputElement) || !/^\d{1,6}$/.test(field.value.trim())) return undefined;
  return Number(field.value);
}

/** The field with an id. @throws where the page has none */
export function fieldById(id: string): HTMLInputElement | HTMLSelectElement {
  const found = elementById(id);
  if (found instanceof HTMLInputElement || found instanceof HTMLSelectElement) return found;
  throw new Error(`${id} is no field.`);
}

/** A new element with a class, a text and what is in it. */
export function newElement<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  { name, text, id }: { readonly name?: string; readonly text?: string; readonly id?: string } = {},
  ...children: readonly Node[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (name !== undefined) element.className = name;
  if (text !== undefined) element.textContent = text;
  if (id !== undefined) element.id = id;
  element.append(...children);
  return element;
}

/** The heading of a table's row. */
export function rowHeading(...children: readonly Node[]): HTMLTableCellElement {
  const heading = newElement('th', {}, ...children);
  heading.scope = 'row';
  return heading;
}

/** Gives a select list its choices, and keeps the chosen one where it is still among them. */
export function setChoices(
  id: string,
  choices: readonly { readonly value: string; readonly text: string }[],
  chosen: string,
): void {
  const list = fieldById(id);
  const options = choices.map(({ value, text }) => {
    const option = newElement('option', { text });
    option.value = value;
    return option;
  });
  const same =
    list instanceof HTMLSelectElement &&
    list.options.length === options.length &&
    options.every(
      ({ value, text }, at) => list.options[at]?.value === value && list.options[at].text === text,
    );
  if (!same) list.replaceChildren(...options);
  list.value = choices.some(({ value }) => value === chosen) ? chosen : '';
}
