import type { PanelPart } from '../../protocol/panel/pageParts.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { withoutPictures, type PagePart } from '../page.ts';

/**
 * The parts of a page as the panel shows them: its texts made safe, each table named by the heading above it. The text
 * pictures of a terminal are left out, since the panel draws its own.
 */
export function panelParts(parts: readonly PagePart[]): PanelPart[] {
  let heading = '';
  return parts.flatMap((part): PanelPart | readonly PanelPart[] => {
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
      case 'places':
        return {
          kind: 'list',
          items: part.places.map(({ place, text }) => ({
            name: sanitizeForTerminal(place),
            text: sanitizeForTerminal(text),
          })),
        };
      case 'table': {
        const { columns, rows } = withoutPictures(part);
        return {
          kind: 'table',
          name: heading,
          columns: columns.map(({ title, align }) => ({ title, align })),
          rows: rows.map((row) => row.map((cell) => sanitizeForTerminal(cell))),
        };
      }
      case 'lines':
        return {
          kind: 'list',
          items: part.rows.map(({ name, text }) => ({
            name: sanitizeForTerminal(name),
            text: sanitizeForTerminal(text),
          })),
        };
      case 'bars':
      case 'curve':
        return [];
    }
  });
}
