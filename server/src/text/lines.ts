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

/**
 * Finds where lines end, before their line break: a line feed or a carriage return. Offsets on one line are looked up
 * without looking through the line again.
 */
export class LineEnds {
  private readonly text: string;
  /** From this offset to `end` there is no line break. */
  private start = 0;
  private end = -1;

  constructor(text: string) {
    this.text = text;
  }

  /** The end of the line that the offset is on. */
  after(offset: number): number {
    if (offset < this.start || offset > this.end) {
      lineBreak.lastIndex = offset;
      const found = lineBreak.exec(this.text)?.index ?? this.text.length;
      [this.start, this.end] = [offset, found];
    }
    return this.end;
  }
}

const lineBreak = /[\r\n]/g;
