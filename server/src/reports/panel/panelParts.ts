import type { PanelPart } from '../../protocol/panel/pageParts.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { PagePart } from '../page.ts';

/** The parts of a page as the panel shows them: its texts made safe, each table named by the heading above it. */
export function panelParts(parts: readonly PagePart[]): PanelPart[] {
  let heading = '';
  return parts.map((part): PanelPart => {
    switch (part.kind) {
      case 'heading':
        heading = sanitizeForTerminal(part.text);
        return { kind: 'heading', text: heading };
      case 'prose':
        return { kind: 'prose', text: sanitizeForTerminal(part.text) };
      case 'list':
        return {
          kind: 'list',
          items: part.items.map(({ name, text }) => ({
            name: name === undefined ? null : sanitizeForTerminal(name),
            text: sanitizeForTerminal(text),
          })),
        };
      case 'facts':
        return {
          kind: 'facts',
          rows: part.rows.map(([label, text]) => ({
            label: sanitizeForTerminal(label),
            text: sanitizeForTerminal(text),
          })),
        };
      case 'table':
        return {
          kind: 'table',
          name: heading,
          columns: part.columns.map(({ title, align }) => ({ title, align })),
          rows: part.rows.map((row) => row.map(sanitizeForTerminal)),
        };
    }
  });
}
