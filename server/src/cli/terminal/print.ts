import { pageText, type Page } from '../../reports/page.ts';
import { plainStyle, terminalStyle, type Style } from '../../text/terminalText.ts';
import { proseColumns, styled, type Io } from './io.ts';

/** How text for people is styled on standard output. */
export function styleOf({ stdout, env }: Io): Style {
  return styled(stdout, env) ? terminalStyle : plainStyle;
}

/** Writes a page for people, as wide as the terminal bears. */
export function printPage(io: Io, page: Page): void {
  io.stdout.write(pageText(page, styleOf(io), proseColumns(io.stdout)));
}
