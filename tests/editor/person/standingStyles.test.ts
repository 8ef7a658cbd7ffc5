import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, it } from 'mocha';
import type { Page } from 'playwright-core';
import { openFile, until } from '../host/workbench.ts';
import { lineWith, openSample, ROOT } from './sample.ts';

const WEEK = 'lanternfall.week.yaml';
const THEMES = [
  'Default Dark Modern',
  'Default Light Modern',
  'Default High Contrast',
  'Default High Contrast Light',
];
/** Techniques of the week file, and how their standing is drawn. */
const styles = {
  'stair-weave': 'bold, normal, none',
  'oil-slick': 'plain, normal, underline',
  'gable-cut': 'plain, italic, line-through',
  'raft-cut': 'plain, italic, line-through',
};

/** What is used of a drawn word; these tests do not have the DOM's types. */
interface DrawnWord {
  readonly ownerDocument: {
    readonly defaultView: {
      getComputedStyle(
        word: unknown,
      ): Readonly<Record<'fontWeight' | 'fontStyle' | 'textDecorationLine', string>>;
    };
  };
}

/** How the editor draws an id. */
async function styleOf(page: Page, id: string): Promise<string> {
  const word = lineWith(page, id).locator('span > span').filter({ hasText: id }).last();
  return word.evaluate((drawn: DrawnWord) => {
    const { fontWeight, fontStyle, textDecorationLine } =
      drawn.ownerDocument.defaultView.getComputedStyle(drawn);
    return `${Number(fontWeight) >= 600 ? 'bold' : 'plain'}, ${fontStyle}, ${textDecorationLine}`;
  });
}

describe('standings in the text', () => {
  for (const colorTheme of THEMES)
    it(`are told apart without colours in ${colorTheme}`, async () => {
      const week = await readFile(join(ROOT, 'samples', WEEK), 'utf8');
      const leaveOut = 'leave_out:\n  - gable-cut\n  - raft-cut\n';
      const sample = await openSample({ colorTheme, files: { [WEEK]: `${week}\n${leaveOut}` } });
      const { page } = sample;
      try {
        // The standings of a week file are those worked out for its route.
        await openFile(page, 'lanternfall.route.yaml');
        await page.locator('.codelens-decoration').first().waitFor();
        await openFile(page, WEEK);
        for (const [id, style] of Object.entries(styles)) {
          await until(page, async () => (await styleOf(page, id)) === style);
          assert.equal(await styleOf(page, id), style, id);
        }
      } finally {
        await sample.close();
      }
    });
});
