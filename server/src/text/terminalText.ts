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
