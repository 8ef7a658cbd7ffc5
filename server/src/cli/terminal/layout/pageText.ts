import { textWidth } from '../../../text/textWidth.ts';
import type { CurvePart, Page, PagePart, PlacesPart } from '../../../reports/page.ts';
import { blockLine } from '../../../text/blockLine.ts';
import { proseWidth, wrapText } from '../../../text/wrap.ts';
import { barsText } from './barsText.ts';
import { cleanText } from './cleanText.ts';
import { linesText } from './linesText.ts';
import type { Screen } from './screen.ts';
import { tableText } from './tableText.ts';
import { widest } from './widest.ts';

/** Names stand above their texts where less than this is left beside them. */
const fewestBeside = 24;
const listIndent = '   ';

/** A page that fits a screen, its last line ended. The only place where widths are worked out. */
export function pageText({ title, parts }: Page, screen: Screen): string {
  const { style } = screen;
  const lines =
    title === undefined ? [] : words(cleanText(title, screen), screen).map((line) => style.bold(line));
  for (const [index, part] of parts.entries()) {
    // No empty line between the title and the first words, nor between a heading and the part below it.
    const before = parts[index - 1];
    const close = lines.length === 0 || (index === 0 ? part.kind === 'prose' : before?.kind === 'heading');
    if (!close) lines.push('');
    lines.push(...partLines(part, screen));
  }
  return `${lines.join('\n')}\n`;
}

/** Running text: no wider than is easy to read. */
function words(text: string, { columns }: Screen, indent = ''): string[] {
  return wrapText(text, Math.min(columns, proseWidth), indent);
}

function partLines(part: PagePart, screen: Screen): string[] {
  switch (part.kind) {
    case 'heading':
      return words(cleanText(part.text, screen), screen).map((line) => screen.style.bold(line));
    case 'prose':
      return words(cleanText(part.text, screen), screen);
    case 'list':
      return part.items.flatMap(({ name, text }) =>
        words(cleanText(name === undefined ? text : `${name}: ${text}`, screen), screen, listIndent),
      );
    case 'facts':
      return factLines(part.rows, screen);
    case 'table':
      return tableText(part, screen);
    case 'places':
      return part.places.flatMap((place) => placeLines(place, screen));
    case 'bars':
      return barsText(part, screen);
    case 'curve':
      return [curveLine(part, screen)];
    case 'lines':
      return linesText(part, screen);
  }
}

function factLines(rows: readonly (readonly [string, string])[], screen: Screen): string[] {
  const names = rows.map(([name]) => cleanText(name, screen));
  const left = widest(names);
  const beside = Math.min(screen.columns, proseWidth) - left - 2;
  return rows.flatMap(([, said], row) => {
    const text = cleanText(said, screen);
    if (beside < fewestBeside) return words(`${names[row]!}: ${text}`, screen, listIndent);
    return wrapText(text, beside).map((line, index) => {
      const name = index === 0 ? names[row]! : '';
      return `${name}${' '.repeat(left - textWidth(name))}  ${line}`;
    });
  });
}

function placeLines(
  { place, text, code, below = false }: PlacesPart['places'][number],
  screen: Screen,
): string[] {
  const { style, columns, breaksLines } = screen;
  const at = cleanText(place, screen);
  const said = cleanText(text, screen);
  const tail = code === undefined ? '' : `[${code}]`;
  const indent = below ? '    ' : '';
  const whole = `${indent}${at}  ${said}${tail === '' ? '' : `  ${tail}`}`;
  const show = (shownPlace: string, shownTail: string): string => {
    const end = shownTail === '' ? '' : `  ${style.dim(shownTail)}`;
    return below ? indent + style.dim(`${shownPlace}  ${said}`) : `${style.bold(shownPlace)}  ${said}${end}`;
  };
  if (!breaksLines || textWidth(whole) <= columns) return [show(at, tail)];
  const further = `${indent}    `;
  const rest = wrapText(further + [said, tail].filter((one) => one !== '').join('  '), columns, further);
  const emphasis = below ? style.dim : style.bold;
  return [indent + emphasis(at), ...rest.map((line) => (below ? style.dim(line.trimEnd()) : line.trimEnd()))];
}

function curveLine({ from, before, after, to }: CurvePart, { columns, style, unicode }: Screen): string {
  const mark = unicode ? '│' : '|';
  const drawn = `${blockLine(before, unicode)}${mark}${blockLine(after, unicode)}`;
  const whole = `${from} ${drawn} ${to}`;
  // Two dates do not fit beside it on the narrowest screens; the sentence below says them.
  return textWidth(whole) <= columns ? `${from} ${style.accent(drawn)} ${to}` : style.accent(drawn);
}
