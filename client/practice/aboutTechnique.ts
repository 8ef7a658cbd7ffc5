import type { PracticeData } from '../../server/src/protocol/practice/blockView.ts';
import { isWebAddress } from '../../server/src/text/webAddress.ts';
import { elementById, newElement, setShown, setText } from './elements.ts';
import { notesParts, type NotePart } from './notesText.ts';

/** The notes that are drawn. */
const drawn = new WeakMap<Element, string>();

/**
 * Shows what the runner wrote about the technique in the route: the notes without the marks of Markdown, and the links.
 * The heading tells it apart from what the program says.
 */
export function drawTechnique({ notes, links }: PracticeData, underWay: boolean): void {
  drawNotes(elementById('notes'), notes);
  setShown('notes', notes !== '');
  const list = elementById('links');
  const shown = [...list.children].map(({ textContent }) => textContent);
  // A list that is made anew would take the focus from the link that has it.
  if (shown.join('\n') !== links.join('\n')) list.replaceChildren(...links.map(linkItem));
  setShown('links', links.length > 0);
  setText('about-title', notes === '' ? 'Your links' : 'Your notes');
  setShown('about', underWay && (notes !== '' || links.length > 0));
}

function drawNotes(element: HTMLElement, notes: string): void {
  // Notes that are drawn anew would lose what a person has selected in them.
  if (drawn.get(element) === notes) return;
  drawn.set(element, notes);
  element.replaceChildren(...notesParts(notes).map(nodeOf));
}

function nodeOf(part: NotePart): Node {
  return typeof part === 'string'
    ? document.createTextNode(part)
    : newElement(part.tag, {}, ...part.parts.map(nodeOf));
}

function linkItem(address: string): HTMLLIElement {
  if (!isWebAddress(address)) return newElement('li', { text: address });
  const link = newElement('a', { text: address });
  link.href = address;
  return newElement('li', {}, link);
}
