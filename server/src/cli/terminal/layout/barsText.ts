import { textWidth } from '../../../text/textWidth.ts';
import type { BarsPart } from '../../../reports/page.ts';
import { cleanText } from './cleanText.ts';
import { fillOf, pieceBar } from './pictures.ts';
import type { Screen } from './screen.ts';
import { widest } from './widest.ts';

/** The longest bar takes no more columns. */
const mostColumns = 40;
const fewestColumns = 5;

/** Amounts as bars between their names and their words. */
export function barsText({ rows, key = [] }: BarsPart, screen: Screen): string[] {
  const { columns, style, unicode } = screen;
  const shown = rows.map(({ name, pieces, text }) => ({
    name: cleanText(name, screen),
    text: cleanText(text, screen),
    pieces,
    amount: pieces.reduce((sum, { amount }) => sum + Math.max(0, amount), 0),
  }));
  const names = widest(shown.map(({ name }) => name));
  const room = columns - names - widest(shown.map(({ text }) => text)) - 4;
  const length = Math.max(fewestColumns, Math.min(mostColumns, room));
  const most = shown.reduce((largest, { amount }) => Math.max(largest, amount), 0);
  const lines = shown.map(({ name, text, pieces, amount }) => {
    const bar = most > 0 && amount > 0 ? pieceBar(pieces, most / length, unicode) : '';
    const before = `${name}${' '.repeat(names - textWidth(name))}  `;
    return `${before}${bar === '' ? '' : `${style.accent(bar)}  `}${text}`.trimEnd();
  });
  const meanings = key.map(([fill, meaning]) => `${fillOf(fill, unicode)} ${meaning}`).join(', ');
  return meanings === '' ? lines : [...lines, `${' '.repeat(names)}  ${meanings}`];
}
