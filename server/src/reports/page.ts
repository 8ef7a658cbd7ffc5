import stringWidth from 'string-width';
import { type TextStyle } from '../text/terminalText.ts';
import { sanitizeForTerminal } from '../safeText/terminal.ts';
import { escapeMarkdown } from '../safeText/markdown.ts';
import { formatTable, type TableColumn } from '../text/table.ts';
import { wrapText } from '../text/wrap.ts';

/**
 * A page of words and numbers, described once and shown in two ways: as aligned text for a terminal, and as Markdown
 * for an editor. Its texts may come from files; both ways make them safe for their destination.
 */
export interface Page {
  readonly title: string;
  readonly parts: readonly PagePart[];
}

export type PagePart =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'prose'; readonly text: string }
  /** One item a line, each with its subject in front. */
  | { readonly kind: 'list'; readonly items: readonly ListItem[] }
  /** Names in one column, each with a text in the next. */
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [name: string, said: string])[] }
  | {
      readonly kind: 'table';
      readonly columns: readonly TableColumn[];
      readonly rows: readonly (readonly string[])[];
    };

export interface ListItem {
  readonly name?: string;
  readonly text: string;
}

export const heading = (text: string): PagePart => ({ kind: 'heading', text });
export const prose = (text: string): PagePart => ({ kind: 'prose', text });
export const bulletList = (items: readonly ListItem[]): PagePart => ({ kind: 'list', items });
export const facts = (rows: readonly (readonly [string, string])[]): PagePart => ({ kind: 'facts', rows });

/** A table whose first column is words and whose others are numbers, unless `align` says otherwise: l or r a column. */
export function tableOf(
  titles: readonly string[],
  rows: readonly (readonly string[])[],
  align = `l${'r'.repeat(titles.length - 1)}`,
): PagePart {
  const columns = titles.map((title, i) => ({
    title,
    align: align[i] === 'l' ? ('left' as const) : ('right' as const),
  }));
  return { kind: 'table', columns, rows };
}

/**
 * A page for a terminal or a pipe.
 *
 * @param width columns that prose may take; tables take as many as they need
 */
export function pageText({ title, parts }: Page, style: TextStyle, width: number): string {
  const lines: string[] = [...wrapText(sanitizeForTerminal(title), width).map((line) => style.bold(line))];
  for (const [index, part] of parts.entries()) {
    // No empty line between the title and the first words, nor between a heading and the part below it.
    const before = parts[index - 1];
    const close = index === 0 ? part.kind === 'prose' : before?.kind === 'heading';
    if (!close) lines.push('');
    lines.push(...partLines(part, style, width));
  }
  return `${lines.join('\n')}\n`;
}

function partLines(part: PagePart, style: TextStyle, width: number): string[] {
  switch (part.kind) {
    case 'heading':
      return [style.bold(sanitizeForTerminal(part.text))];
    case 'prose':
      return wrapText(sanitizeForTerminal(part.text), width);
    case 'list':
      return part.items.flatMap(({ name, text }) =>
        wrapText(sanitizeForTerminal(name === undefined ? text : `${name}: ${text}`), width, '   '),
      );
    case 'facts': {
      const names = part.rows.map(([name]) => sanitizeForTerminal(name));
      const left = names.reduce((most, name) => Math.max(most, stringWidth(name)), 0);
      return part.rows.flatMap(([, said], row) =>
        wrapText(sanitizeForTerminal(said), width - left - 2).map((line, index) => {
          const name = index === 0 ? names[row]! : '';
          return `${name}${' '.repeat(left - stringWidth(name))}  ${line}`;
        }),
      );
    }
    case 'table':
      return formatTable(
        part.columns,
        part.rows.map((row) => row.map(sanitizeForTerminal)),
        style,
      );
  }
}

/** A page as Markdown, its tables aligned so that they read as they are written, too. */
export function pageMarkdown({ title, parts }: Page): string {
  const blocks = parts.map(partMarkdown).filter((block) => block !== '');
  return `${[`# ${escapeMarkdown(title)}`, ...blocks].join('\n\n')}\n`;
}

function partMarkdown(part: PagePart): string {
  switch (part.kind) {
    case 'heading':
      return `## ${escapeMarkdown(part.text)}`;
    case 'prose':
      return escapeMarkdown(part.text);
    case 'list':
      return part.items
        .map(({ name, text }) =>
          name === undefined
            ? `- ${escapeMarkdown(text)}`
            : `- ${escapeMarkdown(name)}: ${escapeMarkdown(text)}`,
        )
        .join('\n');
    case 'facts':
      return part.rows.map(([name, said]) => `- ${escapeMarkdown(name)}: ${escapeMarkdown(said)}`).join('\n');
    case 'table':
      return markdownTable(part.columns, part.rows);
  }
}

function markdownTable(columns: readonly TableColumn[], rows: readonly (readonly string[])[]): string {
  const cells = [columns.map(({ title }) => title), ...rows].map((row) => row.map(escapeMarkdown));
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
