import { textWidth } from './textWidth.ts';

/** Width of prose in columns: no wider, since longer lines are hard to read. */
export const proseWidth = 100;

/**
 * Breaks a text into lines at its spaces; a word longer than a line stands on its own, and one of wide characters, which
 * are written without spaces, is broken between two of them.
 *
 * @param within columns that a line may take, `indent` included
 * @param indent what stands before every line but the first
 * @example
 * wrapText('one two three', 7) // ['one two', 'three']
 */
export function wrapText(text: string, within: number, indent = ''): string[] {
  const lines: string[] = [];
  let width = 0;
  // A number stays with its per cent sign.
  for (const word of text.split(/ (?!%)/))
    for (const [index, piece] of piecesOf(word, within - indent.length).entries()) {
      const wide = textWidth(piece);
      if (lines.length > 0 && index === 0 && width + 1 + wide <= within) {
        lines[lines.length - 1] += ` ${piece}`;
        width += 1 + wide;
      } else {
        lines.push(lines.length > 0 ? indent + piece : piece);
        width = (lines.length > 1 ? indent.length : 0) + wide;
      }
    }
  return lines;
}

/** The word whole, or in pieces of at most `within` columns where it is too long and has wide characters. */
function piecesOf(word: string, within: number): string[] {
  // A word without wide characters may be a path or an id, which has to stay whole to be copied.
  if (word.length * 2 <= within || textWidth(word) <= Math.max(within, word.length)) return [word];
  const pieces = [''];
  let width = 0;
  for (const { segment } of new Intl.Segmenter().segment(word)) {
    const wide = textWidth(segment);
    if (width > 0 && width + wide > within) {
      pieces.push('');
      width = 0;
    }
    pieces[pieces.length - 1] += segment;
    width += wide;
  }
  return pieces;
}
