import type {
  DocumentFormattingParams,
  DocumentOnTypeFormattingParams,
  DocumentRangeFormattingParams,
  TextEdit,
} from 'vscode-languageserver';
import { formatEdits, preservesMeaning } from '../../files/edit/formatEdits.ts';
import type { Span } from '../../files/yaml/problem.ts';
import type { TextEdit as Edit } from '../../files/edit/textEdit.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

export type FormattingNeeds = Pick<FileServices, 'workspace' | 'positions'>;

/**
 * The edits that give a file the one style of the project. An editor's settings, such as the tab size, change nothing.
 */
export function formattingProvider(needs: FormattingNeeds): (params: DocumentFormattingParams) => TextEdit[] {
  return ({ textDocument }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    return file ? toTextEdits(needs, file, formatEdits(file.reading)) : [];
  };
}

/** The same for some lines. Where these lines cannot be moved alone, only the spaces inside them are corrected. */
export function rangeFormattingProvider(
  needs: FormattingNeeds,
): (params: DocumentRangeFormattingParams) => TextEdit[] {
  return ({ textDocument, range }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file) return [];
    const { text } = file.reading;
    const start = needs.positions.offset(file.uri, range.start);
    const end = needs.positions.offset(file.uri, range.end);
    const lineStart = text.lastIndexOf('\n', start - 1) + 1;
    // A selection that ends at the beginning of a line does not include that line.
    const newline = end > start && text[end - 1] === '\n' ? end - 1 : text.indexOf('\n', end);
    return toTextEdits(
      needs,
      file,
      formatEditsWithin(file, { start: lineStart, end: newline < 0 ? text.length : newline }),
    );
  };
}

/** In a file with more characters than this, nothing is formatted while typing: the person would notice the delay. */
const maxOnTypeLength = 200_000;

/** After a line break is typed, formats the line that it ends; the line with the cursor stays as the editor made it. */
export function onTypeFormattingProvider(
  needs: FormattingNeeds,
): (params: DocumentOnTypeFormattingParams) => TextEdit[] {
  return ({ textDocument, position }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file || position.line === 0) return [];
    const { text } = file.reading;
    if (text.length > maxOnTypeLength) return [];
    const end = text.lastIndexOf('\n', needs.positions.offset(file.uri, position) - 1);
    if (end < 0) return [];
    return toTextEdits(
      needs,
      file,
      formatEditsWithin(file, { start: text.lastIndexOf('\n', end - 1) + 1, end }),
    );
  };
}

/**
 * Edits that change nothing outside a span: all edits of the span or, where that would change a meaning, only those
 * inside lines.
 */
function formatEditsWithin({ reading }: ProjectFile, { start, end }: Span): Edit[] {
  const inside = formatEdits(reading).filter((edit) => edit.start >= start && edit.end <= end);
  if (preservesMeaning(reading, inside)) return inside;
  const small = inside.filter((edit) => /\S *$/.test(reading.text.slice(start, edit.start)));
  return preservesMeaning(reading, small) ? small : [];
}

function toTextEdits(
  { positions }: FormattingNeeds,
  { uri }: ProjectFile,
  edits: readonly Edit[],
): TextEdit[] {
  return edits.map((edit) => ({ range: positions.range(uri, edit), newText: edit.text }));
}
