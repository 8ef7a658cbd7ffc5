import { type Page, pageText } from '../../reports/page.ts';
import { plainStyle, terminalStyle, type TextStyle } from '../../text/terminalText.ts';
import { type Io, printText, proseColumns, supportsStyle } from './io.ts';

/** The style of text for people on standard output. */
export function styleOf({ stdout, env }: Io): TextStyle {
  return supportsStyle(stdout, env) ? terminalStyle : plainStyle;
}

/** Writes a page for people, as wide as the terminal allows. */
export function printPage(io: Io, page: Page): void {
  printText(io, pageText(page, styleOf(io), proseColumns(io.stdout)));
}
