/** How emphasis is written. What is emphasized reads the same without it. */
export interface TextStyle {
  readonly bold: (text: string) => string;
  readonly dim: (text: string) => string;
  /** For pictures, so that they stand out from the words. */
  readonly accent: (text: string) => string;
}

/** For pipes, files and people who asked for no colour. */
export const plainStyle: TextStyle = { bold: (text) => text, dim: (text) => text, accent: (text) => text };

/** For terminals: weight, and one colour that is readable on light and on dark. */
export const terminalStyle: TextStyle = {
  bold: (text) => `\u001b[1m${text}\u001b[22m`,
  dim: (text) => `\u001b[2m${text}\u001b[22m`,
  accent: (text) => `\u001b[36m${text}\u001b[39m`,
};
