import assert from 'node:assert/strict';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Locator } from 'playwright-core';
import { openFile, screenshot } from '../host/workbench.ts';
import { openPractice, practiceFrame } from './practiceFrame.ts';
import { ROOT, type OpenSample } from './sample.ts';

const WAIT = 120_000;

describe('Tonight, in the side bar', () => {
  let sample: OpenSample;
  before(async () => {
    sample = await openPractice({ settings: { 'routewright.today': 'last' } });
  });
  after(() => sample.close());

  const rows = (): Locator => sample.page.locator('.sidebar .monaco-list-row');

  it('lists the blocks of the day with their minutes, and what to read before', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    await page.locator('.activitybar .action-label[aria-label="Routewright"]').click();
    await rows().filter({ hasText: / min/ }).first().waitFor({ timeout: WAIT });
    await rows().filter({ hasText: 'Why' }).first().waitFor();
    await screenshot(page, join(ROOT, 'tests/output/tonight-side-bar.png'));
  });

  it('follows a file that another program changes', async () => {
    const week = join(sample.folder, 'lanternfall.week.yaml');
    const before = await readFile(week, 'utf8');
    await writeFile(week, before.replace(/^days: .*/m, 'days: { mon: 0 }'));
    const nothing = rows().filter({ hasText: 'Nothing to practise' });
    await nothing.waitFor({ timeout: WAIT });
    await writeFile(week, before);
    await nothing.waitFor({ state: 'hidden', timeout: WAIT });
    await rows().filter({ hasText: / min/ }).first().waitFor();
  });

  it('starts a block from its row', async () => {
    const { page } = sample;
    const row = rows().filter({ hasText: / min/ }).first();
    const name = await row.locator('.label-name').first().innerText();
    await row.hover();
    await row.locator('.action-label[aria-label="Start This Block"]').click();
    const frame = await practiceFrame(page);
    assert.equal(await frame.locator('h1').innerText(), name);
  });
});
