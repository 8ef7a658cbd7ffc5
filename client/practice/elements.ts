/** The element with an id. @throws where the page has none: script and page then do not belong together */
export function place(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (!found) throw new Error(`The page has no ${id}.`);
  return found;
}

/** Text of an element, written only where it differs: what is read aloud is read once. */
export function say(id: string, text: string): void {
  const element = place(id);
  if (element.textContent !== text) element.textContent = text;
}

/** Shows an element or takes it away. */
export function show(id: string, shown: boolean): void {
  place(id).hidden = !shown;
}

export function onClick(id: string, act: () => void): void {
  place(id).addEventListener('click', act);
}

/** The number in a field; undefined where none is written. */
export function numberIn(id: string): number | undefined {
  const field = place(id);
  if (!(field instanceof HTMLInputElement) || !/^\d{1,6}$/.test(field.value.trim())) return undefined;
  return Number(field.value);
}
