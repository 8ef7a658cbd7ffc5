import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Frame } from 'playwright-core';
import { activeTab, openFile, runCommand, until } from '../host/workbench.ts';
import { panelFrame } from './panelFrame.ts';
import { openPractice } from './practiceFrame.ts';
import { openRunPage, runFrame } from './runFrame.ts';
import { lineWith, messages, type OpenSample } from './sample.ts';

const WAIT = 120_000;
/** A run of the sample that ends in its fifth segment. */
const TIMES = ['1:24.6', '1:58.3', '2:41.9', '1:55.0'];

describe('Log Run, in the editor', () => {
  let sample: OpenSample;
  let frame: Frame;
  before(async () => {
    sample = await openPractice();
  });
  after(() => sample.close());

  const saved = (): Promise<string> => readFile(join(sample.folder, 'lanternfall.runs.yaml'), 'utf8');
  const focusedField = (): Promise<string> => frame.evaluate<string>('document.activeElement.id');

  it('has a field for each segment of the route and takes the keys at once', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    frame = await openRunPage(page);
    assert.equal(await frame.locator('input.time').count(), 17);
    await until(page, async () => (await focusedField()) === 'time-0', WAIT);
    await until(page, () => frame.evaluate<boolean>('document.hasFocus()'), WAIT);
  });

  it('marks a time that cannot be, and counts those that can', async () => {
    const { page } = sample;
    await page.keyboard.type('soon');
    await frame
      .locator('#time-problem-0')
      .filter({ hasText: 'needs a time such as 1:31.8, not soon' })
      .waitFor();
    // Not Control+A: the editor selects all once more when it has heard of the key, and loses what is typed meanwhile.
    await page.keyboard.press('Shift+Home');
    for (const time of TIMES) {
      await page.keyboard.type(time);
      await page.keyboard.press('Enter');
    }
    await frame.locator('#sum').filter({ hasText: '4 of 17 segments filled: 7:59.8' }).waitFor();
  });

  it('keeps what is filled in over Escape, closing and loading the window again', async () => {
    const { page } = sample;
    await page.keyboard.press('Escape');
    await frame.locator('#outcome').selectOption('reset');
    await frame.locator('#ended-at').selectOption('chandlers-row');
    await frame.getByRole('checkbox', { name: 'Gate roll: landed' }).uncheck();
    await runCommand(page, 'View: Close Editor');
    await openFile(page, 'lanternfall.route.yaml');
    frame = await openRunPage(page);
    await frame.locator('#sum').filter({ hasText: '4 of 4 segments filled: 7:59.8' }).waitFor();
    await Promise.all([page.waitForEvent('load'), runCommand(page, 'Developer: Reload Window')]);
    frame = await runFrame(page);
    await frame
      .locator('#sum')
      .filter({ hasText: '4 of 4 segments filled: 7:59.8' })
      .waitFor({ timeout: WAIT });
    assert.equal(await frame.locator('#ended-at').inputValue(), 'chandlers-row');
    assert.equal(await frame.getByRole('checkbox', { name: 'Gate roll: landed' }).isChecked(), false);
  });

  it('logs the run by an edit, and shows what it changed', async () => {
    const { page } = sample;
    const before = await saved();
    await frame.locator('#save').click();
    // In the status bar: a message would lie over the page that opens.
    await page
      .locator('.statusbar-item')
      .filter({ hasText: 'Logged. Added to lanternfall.runs.yaml, not saved yet; undo removes it.' })
      .waitFor({ timeout: WAIT });
    assert.equal(await messages(page).count(), 0);
    const panel = await panelFrame(page);
    // Two reviews are worked out for it.
    await panel
      .locator('#view')
      .getByText('The run ended in Chandlers')
      .waitFor({ timeout: 4 * WAIT });
    assert.equal(await saved(), before);
    await openFile(page, 'lanternfall.runs.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'harbor: 1:24.6').waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    const text = await saved();
    assert.match(text, /ended: \{ at: chandlers-row, why: reset \}/);
    assert.match(text, /gate-roll: \[0, 1\]/);
  });

  it('starts with an empty form after that, and undo takes the run out', async () => {
    const { page } = sample;
    await page.keyboard.press('Control+Z');
    await lineWith(page, 'harbor: 1:24.6').waitFor({ state: 'detached', timeout: WAIT });
    frame = await openRunPage(page);
    await frame.locator('#sum').filter({ hasText: '0 of 17 segments filled.' }).waitFor();
  });
});
