import type {
  DocumentFormattingParams,
  DocumentOnTypeFormattingParams,
  DocumentRangeFormattingParams,
  TextEdit,
} from 'vscode-languageserver';
import { formatEdits, meansTheSame } from '../../files/yaml/formatEdits.ts';
import type { Span } from '../../files/yaml/problem.ts';
import type { TextEdit as Edit } from '../../files/yaml/textEdit.ts';
import type { AnyFile } from '../../workspace/project.ts';
import type { Session } from '../server/session.ts';

/** The edits that bring a file into the one style; what an editor says of tab size and the like changes nothing. */
export function formatting(session: Session, { textDocument }: DocumentFormattingParams): TextEdit[] {
  const file = session.file(textDocument.uri);
  return file ? told(session, file, formatEdits(file.reading)) : [];
}

/** The same for some lines. Where the lines alone cannot be moved, only the space inside them is put right. */
export function rangeFormatting(
  session: Session,
  { textDocument, range }: DocumentRangeFormattingParams,
): TextEdit[] {
  const file = session.file(textDocument.uri);
  if (!file) return [];
  const { text } = file.reading;
  const start = session.places.offset(file.uri, range.start);
  const end = session.places.offset(file.uri, range.end);
  const lineStart = text.lastIndexOf('\n', start - 1) + 1;
  // A selection that ends where a line begins does not mean that line.
  const newline = end > start && text[end - 1] === '\n' ? end - 1 : text.indexOf('\n', end);
  return told(session, file, within(file, { start: lineStart, end: newline < 0 ? text.length : newline }));
}

/** Characters of a file above which nothing is formatted while typing: it would be felt. */
const mostTyped = 200_000;

/** After a line break is typed, the line that it ends; the line with the cursor stays as the editor made it. */
export function onTypeFormatting(
  session: Session,
  { textDocument, position }: DocumentOnTypeFormattingParams,
): TextEdit[] {
  const file = session.file(textDocument.uri);
  if (!file || position.line === 0) return [];
  const { text } = file.reading;
  if (text.length > mostTyped) return [];
  const end = text.lastIndexOf('\n', session.places.offset(file.uri, position) - 1);
  if (end < 0) return [];
  return told(session, file, within(file, { start: text.lastIndexOf('\n', end - 1) + 1, end }));
}

/** Edits that touch nothing outside a span: all of them, or where that would change a meaning, those inside lines. */
function within({ reading }: AnyFile, { start, end }: Span): Edit[] {
  const inside = formatEdits(reading).filter((edit) => edit.start >= start && edit.end <= end);
  if (meansTheSame(reading, inside)) return inside;
  const small = inside.filter((edit) => /\S *$/.test(reading.text.slice(start, edit.start)));
  return meansTheSame(reading, small) ? small : [];
}

function told({ places }: Session, { uri }: AnyFile, edits: readonly Edit[]): TextEdit[] {
  return edits.map((edit) => ({ range: places.range(uri, edit), newText: edit.text }));
}
