import stringWidth from 'string-width';

/** Columns of the widest of some texts; 0 where there is none. */
export function widest(texts: readonly string[]): number {
  return texts.reduce((most, text) => Math.max(most, stringWidth(text)), 0);
}
