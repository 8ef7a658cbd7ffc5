import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import { goTo, openFile } from '../host/workbench.ts';
import { openSample, ROOT, statusItem, type OpenSample } from './sample.ts';

describe('the item in the status bar', () => {
  let sample: OpenSample;
  before(async () => {
    // The sample has one finding, the slip that it holds: allowed here, so that the count begins at zero.
    const name = 'lanternfall.route.yaml';
    const route = await readFile(join(ROOT, 'samples', name), 'utf8');
    const allowed = `# allow lands-too-rarely in this file: the slip is on purpose\n${route}`;
    sample = await openSample({ files: { 'shopping.txt': 'lamp oil, rope\n', [name]: allowed } });
  });
  after(() => sample.close());

  it('names the route and counts the problems in all of its files as they are typed', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.week.yaml');
    const item = statusItem(page);
    await item.filter({ hasText: /Lanternfall,? any%/ }).waitFor();
    await item.and(page.locator('[aria-label$="0 problems"]')).waitFor();
    assert.doesNotMatch(await item.innerText(), /\d/);

    // A new line at the top of the file, with an unknown key.
    await goTo(page, 1);
    await page.keyboard.type('sleep: 8\n');
    // While the line is being typed, the file names no route.
    await item
      .filter({ hasText: /Lanternfall,? any%\s*1$/ })
      .and(page.locator('[aria-label$="1 problem"]'))
      .waitFor();
    await page.locator('.editor-group-container.active .squiggly-error').first().waitFor();

    // The item counts the problems of the whole route, so another of its files shows the same number.
    await openFile(page, 'lanternfall.route.yaml');
    await item.and(page.locator('[aria-label$="1 problem"]')).waitFor();
    await openFile(page, 'lanternfall.week.yaml');
    for (
      let keys = 0;
      keys < 12 && (await item.and(page.locator('[aria-label$="0 problems"]')).count()) === 0;
      keys += 1
    ) {
      await page.keyboard.press('Control+Z');
    }
    await item.and(page.locator('[aria-label$="0 problems"]')).waitFor();
  });

  it('is there for files of a route only', async () => {
    const { page } = sample;
    await openFile(page, 'shopping.txt');
    await statusItem(page).waitFor({ state: 'hidden' });
    await openFile(page, 'lanternfall.practice.yaml');
    await statusItem(page).waitFor();
  });
});
