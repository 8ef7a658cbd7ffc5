import stringWidth from 'string-width';
import type { TextStyle } from './terminalText.ts';

export interface TableColumn {
  readonly title: string;
  readonly align: 'left' | 'right';
}

/** Aligned columns with their titles. Their widths count columns on a screen, not characters. */
export function formatTable(
  columns: readonly TableColumn[],
  rows: readonly (readonly string[])[],
  style: TextStyle,
): string[] {
  const widths = columns.map(({ title }, index) =>
    [title, ...rows.map((row) => row[index] ?? '')].reduce(
      (widest, cell) => Math.max(widest, stringWidth(cell)),
      0,
    ),
  );
  const line = (cells: readonly string[]): string =>
    columns
      .map(({ align }, index) => {
        const cell = cells[index] ?? '';
        const gap = ' '.repeat(widths[index]! - stringWidth(cell));
        return align === 'left' ? cell + gap : gap + cell;
      })
      .join('  ')
      .trimEnd();
  return [style.bold(line(columns.map(({ title }) => title))), ...rows.map(line)];
}
