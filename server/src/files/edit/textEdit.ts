import type { Span } from '../yaml/problem.ts';

/** A stretch of a file's text and what to put in its place. */
export interface TextEdit extends Span {
  readonly text: string;
}

export function applyEdit(text: string, { start, end, text: inserted }: TextEdit): string {
  return text.slice(0, start) + inserted + text.slice(end);
}

/** An edit that puts text in at an offset. */
export function insertion(at: number, text: string): TextEdit {
  return { start: at, end: at, text };
}

/** Where the line of an offset ends, before its line break. */
export function lineEnd(text: string, from: number): number {
  const newline = text.indexOf('\n', from);
  if (newline < 0) return text.length;
  return text[newline - 1] === '\r' && newline > from ? newline - 1 : newline;
}

/** A word for a key or a list: one that YAML would read as something other than text is quoted. */
export function quoteIfNeeded(word: string): string {
  return /^(?:true|false|null|yes|no|on|off|y|n)$/.test(word) ? `"${word}"` : word;
}
