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
