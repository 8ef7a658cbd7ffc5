import type { Page } from '../../reports/page.ts';
import { type Io, printText, screenOfAnswer } from './io.ts';
import { pageText } from './layout/pageText.ts';

/** Writes a page for people, as wide as the terminal allows. */
export function printPage(io: Io, page: Page): void {
  printText(io, pageText(page, screenOfAnswer(io)));
}
