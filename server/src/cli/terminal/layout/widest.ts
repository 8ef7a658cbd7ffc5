import { textWidth } from '../../../text/textWidth.ts';

/** Columns of the widest of some texts; 0 where there is none. */
export function widest(texts: readonly string[]): number {
  return texts.reduce((most, text) => Math.max(most, textWidth(text)), 0);
}
