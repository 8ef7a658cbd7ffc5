/** A line of a file. */
export interface TextLine {
  readonly start: number;
  /** Where the next line starts. */
  readonly nextStart: number;
  /** Without its line end. */
  readonly text: string;
  /** Spaces before the first character; infinite where a tab stands among them. */
  readonly indent: number;
}

/** The lines of a text that begin at or after an offset. A lone carriage return does not end a line. */
export function* linesOf(text: string, from: number): Generator<TextLine> {
  for (let start = from; start < text.length;) {
    const newline = text.indexOf('\n', start);
    const nextStart = newline < 0 ? text.length : newline + 1;
    let end = newline < 0 ? text.length : newline;
    if (end > start && text[end - 1] === '\r') end--;
    const line = text.slice(start, end);
    // YAML does not indent with tabs: the line stays with the piece before it, and reading that piece reports the tab.
    const indent = /^ *\t/.test(line) ? Infinity : line.search(/[^ ]|$/);
    yield { start, nextStart, text: line, indent };
    start = nextStart;
  }
}
