/** The text of a table's file, in the encodings that spreadsheets write. */

/** A text, or why there is none. */
export type TableText = { readonly text: string } | { readonly problem: string };

/**
 * Decodes UTF-8 (with or without a byte-order mark) and UTF-16 (with one, or recognised by its zero bytes). Any other
 * encoding is refused: a name that is read wrong would be taken for another name. Never throws.
 */
export function decodeTable(bytes: Uint8Array): TableText {
  const encoding = encodingOf(bytes);
  try {
    return { text: new TextDecoder(encoding, { fatal: true }).decode(bytes) };
  } catch {
    return {
      problem: `it is not text in ${encoding === 'utf-8' ? 'UTF-8' : 'UTF-16'}; save it from the spreadsheet as CSV in UTF-8`,
    };
  }
}

function encodingOf(bytes: Uint8Array): 'utf-8' | 'utf-16le' | 'utf-16be' {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  if (first === 0xfe && second === 0xff) return 'utf-16be';
  // The first sign of a table is a letter or a quotation mark, which UTF-16 writes with a zero byte.
  if (first !== 0 && second === 0) return 'utf-16le';
  if (first === 0 && second !== undefined && second !== 0) return 'utf-16be';
  return 'utf-8';
}
