/** The line ending of a text: that of its first line, or a line feed where there is one line only. */
export function lineEndingOf(text: string): string {
  const newline = text.indexOf('\n');
  return newline > 0 && text[newline - 1] === '\r' ? '\r\n' : '\n';
}

/** Where the line of an offset begins. */
export function lineStart(text: string, at: number): number {
  return at === 0 ? 0 : text.lastIndexOf('\n', at - 1) + 1;
}

/** Where the line of an offset ends, before its line break. */
export function lineEnd(text: string, from: number): number {
  const newline = text.indexOf('\n', from);
  if (newline < 0) return text.length;
  return text[newline - 1] === '\r' && newline > from ? newline - 1 : newline;
}

/** Where the line after that of an offset begins; the end of the text where there is none. */
export function nextLineStart(text: string, from: number): number {
  const newline = text.indexOf('\n', from);
  return newline < 0 ? text.length : newline + 1;
}

/** Spaces for a new line of the same map: as many as there are characters before an offset on its line. */
export function indentBefore(text: string, at: number): string {
  return text.slice(lineStart(text, at), at).replace(/\S/g, ' ');
}

/** The line break to put before what is added at the end of a text: none where its last line is ended. */
export function lineBreakAtEnd(text: string): string {
  return text === '' || text.endsWith('\n') ? '' : lineEndingOf(text);
}
