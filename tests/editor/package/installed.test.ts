import assert from 'node:assert/strict';
import { existsSync } from 'node:fs';
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Frame, Locator, Page } from 'playwright-core';
import {
  activeTab,
  goTo,
  openFile,
  pickRows,
  runCommand,
  screenshot,
  until,
  waitForKeyboard,
} from '../host/workbench.ts';
import { chooseView, openPanel, settled } from '../person/panelFrame.ts';
import { openPractice, pressTape, startBlock } from '../person/practiceFrame.ts';
import { lineWith, ROOT, statusItem, type OpenSample } from '../person/sample.ts';
import { installFromFile, type Installed } from './install.ts';

const WAIT = 120_000;
const TAPE = 'mmmmllmmlmlllmmmlllm';
const pictures = join(ROOT, 'tests/output/package');

describe('The extension, installed from its file', () => {
  let installed: Installed;
  let sample: OpenSample;

  before(async () => {
    await mkdir(pictures, { recursive: true });
    installed = await installFromFile();
    sample = await openPractice({ installed: true, extensionsDir: installed.extensionsDir });
  });
  after(async () => {
    await sample?.close();
    await installed?.remove();
  });

  const picture = (name: string): Promise<void> => screenshot(sample.page, join(pictures, `${name}.png`));

  it('has a page in the editor, with its icon', async () => {
    const { page } = sample;
    await page.keyboard.press('Control+Shift+X');
    const row = page.locator('.extensions-list .monaco-list-row').filter({ hasText: 'Routewright' }).first();
    await row.click({ timeout: WAIT });
    await page
      .locator('.extension-editor .name')
      .filter({ hasText: 'Routewright' })
      .waitFor({ timeout: WAIT });
    await inSomeFrame(page, (frame) => frame.locator('h1').filter({ hasText: 'Routewright' }));
    const icon = await page
      .locator('.extension-editor img.icon')
      .evaluate((element) => (element as unknown as { naturalWidth: number }).naturalWidth);
    assert.equal(icon, 128);
    await picture('page');
    await page.keyboard.press('Control+W');
  });

  it('says what is wrong in the sample, and that it is mended', async () => {
    const { page } = sample;
    await runCommand(page, 'View: Show Explorer');
    await openFile(page, 'lanternfall.route.yaml');
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
    const lines = (await readFile(join(sample.folder, 'lanternfall.route.yaml'), 'utf8')).split('\n');
    const line = lines.findIndex((text) => /difficulty: \d/.test(text));
    await goTo(page, line + 1, (lines[line] ?? '').search(/difficulty: \d/) + 'difficulty: '.length + 1);
    await page.keyboard.type('9');
    const squiggle = page.locator('.editor-group-container.active .squiggly-error, .squiggly-warning');
    await squiggle.first().waitFor({ timeout: WAIT });
    await picture('finding');
    await page.keyboard.press('Control+Z');
    await page.locator('.squiggly-error').first().waitFor({ state: 'detached', timeout: WAIT });
  });

  it('ranks', async () => {
    const { page } = sample;
    await runCommand(page, 'Routewright: Rank Next Skill');
    await pickRows(page).filter({ hasText: 's per hour' }).nth(3).waitFor({ timeout: WAIT });
    await picture('ranking');
    await page.keyboard.press('Escape');
  });

  it('shows the week', async () => {
    const { page } = sample;
    const frame: Frame = await openPanel(page);
    await settled(frame);
    assert.equal(await frame.locator('.week-days .day').count(), 7);
    await chooseView(frame, 'Curve');
    await frame.locator('figure .chart .run-ahead').last().waitFor({ timeout: WAIT });
    await picture('week');
    await page.locator('.tab').filter({ hasText: 'lanternfall.route.yaml' }).click();
  });

  it('counts a block by its keys and logs it', async () => {
    const { page, folder } = sample;
    const frame = await startBlock(page, 'Crate vault');
    await pressTape(page, frame, TAPE);
    await picture('practice');
    await page.keyboard.press('e');
    await frame.locator('#practice[data-phase="rest"]').waitFor({ timeout: WAIT });
    await openFile(page, 'lanternfall.practice.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, TAPE).waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    const saved = await readFile(join(folder, 'lanternfall.practice.yaml'), 'utf8');
    assert.equal(saved.split(TAPE).length - 1, 1);
    await picture('logged');
  });

  it('copies the sample that it brings along', async () => {
    const { page, folder } = sample;
    await runCommand(page, 'Routewright: Open the Sample');
    const copied = join(folder, 'lanternfall', 'lanternfall.route.yaml');
    await until(page, () => existsSync(copied), WAIT);
    // The file becomes the active editor and has the keyboard focus.
    await waitForKeyboard(page, 'lanternfall.route.yaml');
    await picture('sample');
    const sent = await readFile(join(ROOT, 'samples', 'lanternfall.route.yaml'), 'utf8');
    assert.equal(await readFile(copied, 'utf8'), sent);
  });

  it('leads through the first steps, with a picture for each', async () => {
    const { page } = sample;
    await runCommand(page, 'Welcome: Open Walkthrough...');
    await pickRows(page).filter({ hasText: 'Routewright' }).first().click();
    await page.locator('.getting-started-step').first().waitFor({ timeout: WAIT });
    await inSomeFrame(page, (frame) => frame.locator('svg').filter({ hasText: 'segments:' }));
    await picture('walkthrough');
    assert.ok((await page.locator('.getting-started-step').count()) >= 3);
  });
});

/** Waits until one of the frames in the editor's page shows an element. */
async function inSomeFrame(page: Page, wanted: (frame: Frame) => Locator): Promise<void> {
  const end = Date.now() + WAIT;
  while (Date.now() < end) {
    for (const frame of page.frames()) {
      const found = await wanted(frame)
        .count()
        .catch(() => 0);
      if (found > 0) return;
    }
    await page.waitForTimeout(50);
  }
  throw new Error('No page in the editor shows it.');
}
