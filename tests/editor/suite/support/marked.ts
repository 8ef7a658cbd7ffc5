/** An expected finding in a text: its code, and its place with lines and characters from 0. */
export interface Mark {
  readonly code: string;
  readonly start: readonly [line: number, character: number];
  readonly end: readonly [line: number, character: number];
}

/** A text without its marks, and the marks in the order of the text. */
export interface Marked {
  readonly text: string;
  readonly marks: readonly Mark[];
}

/**
 * Reads a text in which `⟦code|words⟧` marks the words that a finding of that code underlines. Places are computed from
 * the marks alone, independently of the code under test.
 */
export function unmarked(written: string): Marked {
  let text = '';
  const marks: Mark[] = [];
  const place = (): [number, number] => {
    const lines = text.split('\n');
    return [lines.length - 1, lines.at(-1)?.length ?? 0];
  };
  for (const part of written.split(/(⟦[^⟧]*⟧)/)) {
    const [, code, words] = /^⟦([a-z-]+)\|([^⟧]*)⟧$/.exec(part) ?? [];
    if (code === undefined || words === undefined) {
      text += part;
      continue;
    }
    const start = place();
    text += words;
    marks.push({ code, start, end: place() });
  }
  return { text, marks };
}
