/** A place in a text: line and UTF-16 character, both from 0. */
export interface Position {
  readonly line: number;
  readonly character: number;
}

export interface Range {
  readonly start: Position;
  readonly end: Position;
}

/**
 * Turns offsets of a text into lines and characters. A line ends at `\n`, `\r\n` or `\r`. A byte-order mark at the
 * start takes up no character, as editors do not show it.
 */
export class LineIndex {
  private readonly starts: number[] = [0];

  constructor(text: string) {
    if (text.startsWith('\uFEFF')) this.starts[0] = 1;
    for (let at = 0; at < text.length; at++) {
      const code = text.charCodeAt(at);
      if (code === 10 || (code === 13 && text.charCodeAt(at + 1) !== 10)) this.starts.push(at + 1);
    }
  }

  positionAt(offset: number): Position {
    let low = 0;
    let high = this.starts.length;
    while (high - low > 1) {
      const middle = (low + high) >>> 1;
      if (this.starts[middle]! <= offset) low = middle;
      else high = middle;
    }
    return { line: low, character: Math.max(0, offset - this.starts[low]!) };
  }

  range({ start, end }: { readonly start: number; readonly end: number }): Range {
    return { start: this.positionAt(start), end: this.positionAt(end) };
  }
}
