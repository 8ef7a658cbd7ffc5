import { sanitizeForTerminal } from '../../../safeText/terminal.ts';
import { asciiText } from './asciiText.ts';
import type { Screen } from './screen.ts';

/** A text on one line that the screen can show, without characters that act. It is measured after this. */
export function cleanText(text: string, { unicode }: Screen): string {
  const safe = sanitizeForTerminal(text);
  return unicode ? safe : asciiText(safe);
}
