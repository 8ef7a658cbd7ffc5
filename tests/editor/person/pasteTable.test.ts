import assert from 'node:assert/strict';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Locator, Page } from 'playwright-core';
import {
  activeTab,
  answer,
  openWorkbench,
  pickInput,
  pickRows,
  runCommand,
  waitForKeyboard,
  type Workbench,
} from '../host/workbench.ts';
import { lineWith, messages, ROOT } from './sample.ts';

const LIMIT_MS = 120_000;
const PASTE = 'Routewright: Paste a Table…';
const ROUTE = 'harbor-lights.route.yaml';

/** Tables as a spreadsheet puts them on the clipboard. */
const segments = [
  'Segment\tTime',
  ...Array.from({ length: 12 }, (_, at) => `Pier ${at + 1}\t1:${String(10 + at)}.5`),
].join('\r\n');
const techniques = [
  'Technique\tSaves\tLoses\tDifficulty\tSegment',
  ...Array.from({ length: 10 }, (_, at) => `Hop ${at + 1}\t${at + 1}.5\t1\t${at + 1}\tPier ${at + 1}`),
].join('\r\n');

describe('Paste a Table, in a folder without a route', () => {
  let folder: string;
  let workbench: Workbench;
  let page: Page;
  before(async () => {
    folder = await mkdtemp(join(tmpdir(), 'editor-paste-'));
    await writeFile(join(folder, 'shopping.txt'), 'lamp oil, rope\n');
    workbench = await openWorkbench({ extensionPath: ROOT, workspace: folder });
    page = workbench.page;
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    // The palette knows the commands once the editor has read what the extension brings.
    await page.locator('.activitybar [aria-label^="Routewright"]').first().waitFor({ timeout: LIMIT_MS });
  });
  after(async () => {
    await workbench.close();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  });

  /** Puts a table on the clipboard and runs the command; the list with the preview, once it has this line. */
  async function preview(table: string, line: RegExp): Promise<Locator> {
    await page.evaluate(`navigator.clipboard.writeText(${JSON.stringify(table)})`);
    await runCommand(page, PASTE);
    await pickRows(page).filter({ hasText: line }).first().waitFor({ timeout: LIMIT_MS });
    return page.locator('.quick-input-widget:visible');
  }

  it('begins a route with 12 segments', async () => {
    const shown = await preview(segments, /^Paste into a new route/);
    assert.match(await shown.innerText(), /12 segments \(15:12\.0 in all\)/);
    await page.keyboard.press('Enter');
    await pickInput(page).waitFor({ timeout: LIMIT_MS });
    await answer(page, 'Harbor Lights');
    await activeTab(page).filter({ hasText: ROUTE }).waitFor({ timeout: LIMIT_MS });
    assert.equal((await readdir(folder)).filter((name) => name.startsWith('harbor-lights.')).length, 4);
    const text = await readFile(join(folder, ROUTE), 'utf8');
    assert.equal(text.match(/^ {2}- id: pier-\d+$/gm)?.length, 12);
  });

  it('adds 10 techniques to it by one edit, and they are ranked', async () => {
    const shown = await preview(techniques, /^Paste into harbor-lights/);
    assert.match(await shown.innerText(), /10 techniques/);
    await page.keyboard.press('Enter');
    await messages(page).filter({ hasText: '10 techniques' }).waitFor({ timeout: LIMIT_MS });
    await activeTab(page).filter({ hasText: ROUTE }).and(page.locator('.dirty')).waitFor();
    await runCommand(page, 'Routewright: Rank Next Skill');
    await pickRows(page)
      .filter({ hasText: /Hop \d/ })
      .first()
      .waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Escape');
    await pickRows(page).first().waitFor({ state: 'hidden' });
  });

  it('is taken back by one undo', async () => {
    await waitForKeyboard(page, ROUTE);
    await page.keyboard.press('Control+Z');
    await activeTab(page)
      .filter({ hasText: ROUTE })
      .and(page.locator(':not(.dirty)'))
      .waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Control+End');
    await lineWith(page, 'techniques: {}').waitFor();
  });

  it('says what cannot be read, and then writes nothing', async () => {
    const before = await readFile(join(folder, ROUTE), 'utf8');
    const shown = await preview('Segment\tTime\r\nTower\tsoon\r\n', /Line 2, column Time/);
    assert.match(await shown.innerText(), /Line 2, column Time/);
    await page.keyboard.press('Escape');
    await shown.waitFor({ state: 'hidden' });
    assert.equal(await readFile(join(folder, ROUTE), 'utf8'), before);
  });

  it('adds a segment by questions, and says at once what is no time', async () => {
    await runCommand(page, 'Routewright: Add a Segment…');
    await pickInput(page).waitFor({ timeout: LIMIT_MS });
    await answer(page, 'Lamp tower');
    await page.locator('.quick-input-title', { hasText: '(2 of 2)' }).waitFor();
    await pickInput(page).fill('soon');
    await page.locator('.quick-input-message', { hasText: /time/i }).waitFor();
    await answer(page, '2:10.5');
    await lineWith(page, 'name: Lamp tower').waitFor({ timeout: LIMIT_MS });
    await lineWith(page, 'time: 2:10.5').waitFor();
  });

  it('adds a technique by questions, used in the segment that is picked, all by keyboard', async () => {
    await runCommand(page, 'Routewright: Add a Technique…');
    for (const [at, text] of ['Rope slide', '4', '2.5', ''].entries()) {
      await page
        .locator('.quick-input-title', { hasText: `(${at + 1} of 4)` })
        .waitFor({ timeout: LIMIT_MS });
      await answer(page, text);
    }
    await pickRows(page).filter({ hasText: 'Lamp tower' }).waitFor({ timeout: LIMIT_MS });
    await page.keyboard.type('Lamp tower');
    // The keyboard is in the field; from the list, Space ticks.
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Space');
    await page.keyboard.press('Enter');
    await lineWith(page, 'name: Rope slide').waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Control+S');
    await activeTab(page).filter({ hasText: ROUTE }).and(page.locator(':not(.dirty)')).waitFor();
    const text = await readFile(join(folder, ROUTE), 'utf8');
    assert.match(
      text,
      /name: Lamp tower\n {4}time: 2:10\.5\n {4}techniques: \[rope-slide\]|techniques:\n {6}- rope-slide/,
    );
    assert.match(text, /rope-slide:\n {4}name: Rope slide\n {4}difficulty: 4\n {4}saves: 2\.5/);
  });
});
