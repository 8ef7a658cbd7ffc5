/** The element with an id. @throws where the page has none: script and page then do not belong together */
export function elementById(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (!found) throw new Error(`The page has no ${id}.`);
  return found;
}

/** Text of an element, written only where it differs: what is read aloud is read once. */
export function setText(id: string, text: string): void {
  const element = elementById(id);
  if (element.textContent !== text) element.textContent = text;
}

/** Shows an element or takes it away. */
export function setShown(id: string, shown: boolean): void {
  elementById(id).hidden = !shown;
}

export function onClick(id: string, act: () => void): void {
  elementById(id).addEventListener('click', act);
}

/** The number in a field; undefined where none is written. */
export function numberIn(id: string): number | undefined {
  const field = elementById(id);
  if (!(field instanceof HTMLInputElement) || !/^\d{1,6}$/.test(field.value.trim())) return undefined;
  return Number(field.value);
}
