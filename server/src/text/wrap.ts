import stringWidth from 'string-width';

/** Width of prose in columns: easy to read, and not too wide for a usual terminal. */
export const proseWidth = 100;

/**
 * Breaks a text into lines at its spaces; a word longer than a line stands on its own.
 *
 * @param within columns that a line may take, `indent` included
 * @param indent what stands before every line but the first
 * @example
 * wrapText('one two three', 7) // ['one two', 'three']
 */
export function wrapText(text: string, within: number, indent = ''): string[] {
  const lines: string[] = [];
  let width = 0;
  // A number stays with its percent sign.
  for (const word of text.split(/ (?!%)/)) {
    const wide = stringWidth(word);
    if (lines.length > 0 && width + 1 + wide <= within) {
      lines[lines.length - 1] += ` ${word}`;
      width += 1 + wide;
    } else {
      lines.push(lines.length > 0 ? indent + word : word);
      width = (lines.length > 1 ? indent.length : 0) + wide;
    }
  }
  return lines;
}
