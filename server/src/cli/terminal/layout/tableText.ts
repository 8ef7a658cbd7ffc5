import { textWidth } from '../../../text/textWidth.ts';
import type { PageColumn, TablePart } from '../../../reports/page.ts';
import { formatList } from '../../../text/format.ts';
import { wrapText } from '../../../text/wrap.ts';
import { cleanText } from './cleanText.ts';
import { rangeBar, scaleOf } from './pictures.ts';
import type { Screen } from './screen.ts';
import { widest } from './widest.ts';

/** Narrower than this, a table that does not fit becomes a list instead of losing columns. */
const narrow = 60;
const gap = 2;

/** One column with all its cells as text. */
interface Column extends PageColumn {
  readonly cells: readonly string[];
  readonly isPicture: boolean;
  /** Columns of its widest cell, its title not counted. */
  readonly width: number;
}

/** A column of long names goes on below where that keeps the others; it takes this many columns at least. */
const fewestForNames = 24;

/**
 * A table that fits the screen: with each title on one line; else with titles and long names on several lines; else
 * without the columns that matter least, which the line below it names; else as a list of its rows.
 */
export function tableText(table: TablePart, screen: Screen): string[] {
  let columns = columnsOf(table, screen);
  const left: Column[] = [];
  for (;;) {
    const widths = widthsWithin(columns, screen.columns);
    if (widths) return [...aligned(columns, widths, screen), ...leftOut(left, screen)];
    const most = Math.max(0, ...columns.map(({ least = 0 }) => least));
    if (most === 0 || screen.columns < narrow) return listed(columnsOf(table, screen), screen);
    left.push(...columns.filter(({ least }) => least === most));
    columns = columns.filter(({ least }) => least !== most);
  }
}

function columnsOf({ columns, rows }: TablePart, screen: Screen): Column[] {
  return columns.map((column, i) => {
    const written = rows.map((row) => row[i] ?? '');
    const scale = scaleOf(written.filter((cell) => typeof cell === 'object'));
    const cells = written.map((cell) =>
      typeof cell === 'object' ? rangeBar(cell, scale, screen.unicode) : cleanText(cell, screen),
    );
    return {
      ...column,
      title: cleanText(column.title, screen),
      cells,
      isPicture: written.some((cell) => typeof cell === 'object'),
      width: widest(cells),
    };
  });
}

/** Lines that a title may take, the fewest first. */
const titleLines = [1, 2, 3];

/** The widths of the columns, with titles on as few lines as fit; undefined where they do not fit. */
function widthsWithin(columns: readonly Column[], within: number): number[] | undefined {
  const choices = titleLines.map((lines) =>
    columns.map(({ title, width }) => Math.max(width, titleWidth(title, lines))),
  );
  const fitting = choices.find((widths) => sumOf(widths) <= within);
  if (fitting || within < narrow) return fitting;
  for (const widths of choices) {
    const shorter = withShorterNames(columns, widths, within);
    if (shorter) return shorter;
  }
  return undefined;
}

/** The widths with the widest column of words as narrow as it has to be; undefined where that is too narrow. */
function withShorterNames(
  columns: readonly Column[],
  widths: readonly number[],
  within: number,
): number[] | undefined {
  const words = columns.map(({ align, isPicture }, i) => (align === 'left' && !isPicture ? widths[i]! : 0));
  const at = words.indexOf(Math.max(...words));
  const left = widths[at]! - (sumOf(widths) - within);
  return left < fewestForNames ? undefined : widths.map((width, i) => (i === at ? left : width));
}

function sumOf(widths: readonly number[]): number {
  return widths.reduce((sum, width) => sum + width, gap * (widths.length - 1));
}

/** The fewest columns in which a title takes no more than so many lines. */
function titleWidth(title: string, lines: number): number {
  let width = widest(title.split(' '));
  while (wrapText(title, width).length > lines) width += 1;
  return width;
}

function aligned(columns: readonly Column[], widths: readonly number[], { style }: Screen): string[] {
  /** One row of the table, of as many lines as its longest cell takes. */
  const rowLines = (cells: readonly string[], atBottom: boolean): string[][] => {
    const broken = cells.map((cell, i) =>
      textWidth(cell) <= widths[i]! ? [cell] : wrapText(cell, widths[i]!, atBottom ? '' : '  '),
    );
    const height = Math.max(...broken.map(({ length }) => length));
    return Array.from({ length: height }, (_, row) =>
      broken.map((lines) => lines[atBottom ? row - height + lines.length : row] ?? ''),
    );
  };
  const line = (cells: readonly string[], picture: (text: string) => string): string =>
    columns
      .map(({ align, isPicture }, i) => {
        const cell = cells[i]!;
        const space = ' '.repeat(Math.max(0, widths[i]! - textWidth(cell)));
        const drawn = cell.trimEnd();
        const shown = isPicture && drawn !== '' ? picture(drawn) + cell.slice(drawn.length) : cell;
        return align === 'left' ? shown + space : space + shown;
      })
      .join(' '.repeat(gap))
      .trimEnd();
  // The last lines of all titles are beside each other, just above the cells.
  const titles = rowLines(
    columns.map(({ title }) => title),
    true,
  ).map((cells) => line(cells, (text) => text));
  const rows = (columns[0]?.cells ?? []).flatMap((_, row) =>
    rowLines(
      columns.map(({ cells }) => cells[row]!),
      false,
    ).map((cells) => line(cells, style.accent)),
  );
  return [...titles.filter((title) => title !== '').map((title) => style.bold(title)), ...rows];
}

/** A column with a picture is not named: the numbers that it shows are in the other columns. */
function leftOut(columns: readonly Column[], screen: Screen): string[] {
  const names = columns.flatMap(({ isPicture, called, title }) => (isPicture ? [] : [called ?? title]));
  if (names.length === 0) return [];
  const text = `Left out at ${screen.columns} columns: ${formatList(names)}. A wider terminal shows more.`;
  return wrapText(text, screen.columns).map((line) => screen.style.dim(line));
}

/** Each row as its name, with everything else of it below. */
function listed(columns: readonly Column[], { columns: within, style }: Screen): string[] {
  const nameAt = columns.findIndex(({ align }) => align === 'left');
  const name = nameAt < 0 ? 0 : nameAt;
  const indent = '  ';
  return (columns[0]?.cells ?? []).flatMap((_, row) => {
    const head = columns.slice(0, name + 1).map(({ cells }) => cells[row]!.trim());
    const rest = columns.slice(name + 1).filter(({ cells }) => cells[row]!.trim() !== '');
    const words = rest
      .filter(({ isPicture }) => !isPicture)
      .map(({ title, cells }) => (title === '' ? cells[row]! : `${title} ${cells[row]!}`));
    const pictures = rest.filter(({ isPicture }) => isPicture).map(({ cells }) => cells[row]!.trimEnd());
    return [
      ...wrapText(head.filter((cell) => cell !== '').join(' '), within, indent)
        .filter((line) => line !== '')
        .map((line) => style.bold(line)),
      ...pictures.map((picture) => indent + style.accent(picture)),
      ...(words.length === 0 ? [] : wrapText(indent + words.join('; '), within, indent)),
    ];
  });
}
