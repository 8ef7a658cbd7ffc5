import stringWidth from 'string-width';
import { plainText, type Style } from '../text/terminalText.ts';
import { table, type Column } from '../text/table.ts';
import { wrap } from '../text/wrap.ts';

/**
 * A page of words and numbers, written once and shown in two ways: aligned text for a terminal, Markdown for an
 * editor. Texts may hold what files say; each way makes them safe for where they go.
 */
export interface Page {
  readonly title: string;
  readonly parts: readonly Part[];
}

export type Part =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'prose'; readonly text: string }
  /** One item a line, each with what it speaks of in front. */
  | { readonly kind: 'list'; readonly items: readonly Item[] }
  /** A name with what is said of it, the names in a column. */
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [name: string, said: string])[] }
  | {
      readonly kind: 'table';
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly string[])[];
    };

export interface Item {
  readonly name?: string;
  readonly text: string;
}

export const heading = (text: string): Part => ({ kind: 'heading', text });
export const prose = (text: string): Part => ({ kind: 'prose', text });
export const list = (items: readonly Item[]): Part => ({ kind: 'list', items });
export const facts = (rows: readonly (readonly [string, string])[]): Part => ({ kind: 'facts', rows });

/** A table whose first column is words and whose others are numbers, unless `align` says otherwise: l or r a column. */
export function tableOf(
  titles: readonly string[],
  rows: readonly (readonly string[])[],
  align = `l${'r'.repeat(titles.length - 1)}`,
): Part {
  const columns = titles.map((title, i) => ({
    title,
    align: align[i] === 'l' ? ('left' as const) : ('right' as const),
  }));
  return { kind: 'table', columns, rows };
}

/**
 * A page for a terminal or a pipe.
 *
 * @param width columns that prose may take; tables take what they need
 */
export function pageText({ title, parts }: Page, style: Style, width: number): string {
  const lines: string[] = [...wrap(plainText(title), width).map((line) => style.bold(line))];
  for (const [index, part] of parts.entries()) {
    // The first words belong to the title, and a part to the heading above it.
    const before = parts[index - 1];
    const close = index === 0 ? part.kind === 'prose' : before?.kind === 'heading';
    if (!close) lines.push('');
    lines.push(...linesOf(part, style, width));
  }
  return `${lines.join('\n')}\n`;
}

function linesOf(part: Part, style: Style, width: number): string[] {
  switch (part.kind) {
    case 'heading':
      return [style.bold(plainText(part.text))];
    case 'prose':
      return wrap(plainText(part.text), width);
    case 'list':
      return part.items.flatMap(({ name, text }) =>
        wrap(plainText(name === undefined ? text : `${name}: ${text}`), width, '   '),
      );
    case 'facts': {
      const names = part.rows.map(([name]) => plainText(name));
      const left = names.reduce((most, name) => Math.max(most, stringWidth(name)), 0);
      return part.rows.flatMap(([, said], row) =>
        wrap(plainText(said), width - left - 2).map((line, index) => {
          const name = index === 0 ? names[row]! : '';
          return `${name}${' '.repeat(left - stringWidth(name))}  ${line}`;
        }),
      );
    }
    case 'table':
      return table(
        part.columns,
        part.rows.map((row) => row.map(plainText)),
        style,
      );
  }
}

/** A page as Markdown, its tables aligned so that they read as they are written, too. */
export function pageMarkdown({ title, parts }: Page): string {
  const blocks = parts.map(markdownOf).filter((block) => block !== '');
  return `${[`# ${escaped(title)}`, ...blocks].join('\n\n')}\n`;
}

function markdownOf(part: Part): string {
  switch (part.kind) {
    case 'heading':
      return `## ${escaped(part.text)}`;
    case 'prose':
      return escaped(part.text);
    case 'list':
      return part.items
        .map(({ name, text }) =>
          name === undefined ? `- ${escaped(text)}` : `- ${escaped(name)}: ${escaped(text)}`,
        )
        .join('\n');
    case 'facts':
      return part.rows.map(([name, said]) => `- ${escaped(name)}: ${escaped(said)}`).join('\n');
    case 'table':
      return markdownTable(part.columns, part.rows);
  }
}

function markdownTable(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const cells = [columns.map(({ title }) => title), ...rows].map((row) => row.map(escaped));
  const widths = columns.map((_, i) =>
    cells.reduce((most, row) => Math.max(most, stringWidth(row[i] ?? '')), 3),
  );
  const line = (row: readonly string[]): string =>
    `| ${columns
      .map(({ align }, i) => {
        const cell = row[i] ?? '';
        const gap = ' '.repeat(widths[i]! - stringWidth(cell));
        return align === 'left' ? cell + gap : gap + cell;
      })
      .join(' | ')} |`;
  const rule = `| ${columns
    .map(({ align }, i) => (align === 'left' ? '-'.repeat(widths[i]!) : `${'-'.repeat(widths[i]! - 1)}:`))
    .join(' | ')} |`;
  return [line(cells[0]!), rule, ...cells.slice(1).map(line)].join('\n');
}

/** Only what would change the page is escaped, so that it can be read unrendered. */
function escaped(text: string): string {
  return plainText(text).replace(/[\\`*_[\]<>|]/g, '\\$&');
}
