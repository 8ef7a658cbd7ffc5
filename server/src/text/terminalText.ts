/**
 * Characters that are not safe in a terminal. Routes are shared, and a name in one could contain codes that recolour
 * the screen, move its cursor or turn the reading direction around.
 */
const unsafeCharacters = new RegExp(
  '[\\u0000-\\u001f\\u007f-\\u009f\\u200e\\u200f\\u202a-\\u202e\\u2066-\\u2069]+',
  'g',
);

/** The text on one line, without control characters. */
export function sanitizeForTerminal(text: string): string {
  return text.replace(unsafeCharacters, ' ').trim();
}

/** How emphasis is written. */
export interface TextStyle {
  bold(text: string): string;
  dim(text: string): string;
}

/** For pipes, files and people who asked for no colour. */
export const plainStyle: TextStyle = { bold: (text) => text, dim: (text) => text };

/** For terminals: weight only, no colours, so that it is readable on any background. */
export const terminalStyle: TextStyle = {
  bold: (text) => `\u001b[1m${text}\u001b[22m`,
  dim: (text) => `\u001b[2m${text}\u001b[22m`,
};
