import { textWidth } from '../../../text/textWidth.ts';
import type { LinesPart } from '../../../reports/page.ts';
import { blockLine } from '../../../text/blockLine.ts';
import { wrapText } from '../../../text/wrap.ts';
import { cleanText } from './cleanText.ts';
import type { Screen } from './screen.ts';
import { widest } from './widest.ts';

const gap = '  ';
/** No name takes more columns beside a line; a longer one goes on below. */
const mostForNames = 30;

/**
 * Small lines of bars between their names and their words. On a screen that is too narrow for all three the words go
 * below, and on one that is too narrow for two the line as well; bars that do not fit even then are left out at the
 * left, where they are oldest.
 */
export function linesText({ rows }: LinesPart, screen: Screen): string[] {
  const { columns, style, unicode } = screen;
  const shown = rows.map(({ name, shares, text }) => ({
    name: cleanText(name, screen),
    line: blockLine(shares.slice(-columns), unicode),
    text: cleanText(text, screen),
  }));
  const names = Math.min(mostForNames, widest(shown.map(({ name }) => name)));
  const lines = widest(shown.map(({ line }) => line));
  const two = names + gap.length + lines;
  const three = two + gap.length + widest(shown.map(({ text }) => text));
  return shown.flatMap(({ name, line, text }) => {
    const below = wrapText(gap + text, columns, gap);
    if (two > columns) return [...wrapText(name, columns, gap), style.accent(line.trimEnd()), ...below];
    const [first = '', ...rest] = wrapText(name, names, gap);
    const begun = `${first}${' '.repeat(names - textWidth(first))}${gap}`;
    if (three > columns) return [begun + style.accent(line.trimEnd()), ...rest, ...below];
    const fill = ' '.repeat(lines - textWidth(line));
    return [`${begun}${style.accent(line)}${fill}${gap}${text}`, ...rest];
  });
}
