import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Frame, Page } from 'playwright-core';

// S: axe-core, the rules of WCAG 2.1 A and AA, https://www.w3.org/TR/WCAG21/.
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Runs in the page, after axe-core. */
const find = `axe.run({ resultTypes: ['violations'] }).then(({ violations }) =>
  violations.map(({ id, nodes }) => id + ': ' + nodes.map(({ html }) => html).join(' ')))`;

/** What keeps somebody out of a page, by the rules of axe-core; empty where nothing does. */
export async function accessViolations(page: Page | Frame): Promise<string[]> {
  await page.evaluate(axe);
  return page.evaluate<string[]>(find);
}
