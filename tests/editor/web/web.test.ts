import assert from 'node:assert/strict';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
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
  waitForKeyboard,
} from '../host/workbench.ts';
import { techniqueRows } from '../host/rankedRows.ts';
import { chooseView, openPanel, panelFrame, settled } from '../person/panelFrame.ts';
import { practiceFrame, pressTape, startBlock, takesKeys } from '../person/practiceFrame.ts';
import { lineWith, messages, ROOT, statusItem, type OpenSample } from '../person/sample.ts';
import { printedRanking, TODAY, type PrintedRanking } from '../suite/support/commandLine.ts';
import { END } from './folderExtension.ts';
import { openOnWeb } from './open.ts';

const WAIT = 120_000;
const pictures = join(ROOT, 'tests/output/web');
const ROUTE = 'lanternfall.route.yaml';
const UNDERLINE = ':is(.squiggly-error, .squiggly-warning)';
/** Selects the underlining in the visible part of the active editor. */
const FINDING = `.editor-group-container.active .view-overlays ${UNDERLINE}`;

describe('An editor that runs in the browser alone, on a folder that is on no disk', () => {
  let sample: OpenSample;
  let printed: PrintedRanking;
  let route: string;

  before(async () => {
    await mkdir(pictures, { recursive: true });
    sample = await openOnWeb({ 'routewright.today': TODAY });
    printed = await printedRanking(ROOT, join(sample.folder, ROUTE));
    route = await readFile(join(sample.folder, ROUTE), 'utf8');
  });
  after(() => sample?.close());

  it('knows the route and says what a technique comes to', async () => {
    const { page } = sample;
    await openListed(page, ROUTE);
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
    await goTo(page, route.split('\n').indexOf('  crate-vault:') + 1);
    await pointAt(page, lineWith(page, '  crate-vault:'), 'Crate vault');
    await screenshot(page, join(pictures, 'hover.png'));
    await page.mouse.move(5, 5);
    await page.locator('.monaco-hover:visible').waitFor({ state: 'hidden' });
  });

  it('finds what is wrong, until it is mended', async () => {
    const { page } = sample;
    await addLineAtTop(page, 'unheard-of: 1');
    await findingAtTop(page).waitFor({ timeout: WAIT });
    await removeLineAtTop(page);
    await findingAtTop(page).waitFor({ state: 'detached', timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    assert.equal(await readFile(join(sample.folder, ROUTE), 'utf8'), route);
  });

  it('ranks as the command line does', async () => {
    const { page } = sample;
    await runCommand(page, 'Routewright: Rank Next Skill');
    await ranked(page).waitFor({ timeout: WAIT });
    await screenshot(page, join(pictures, 'ranking.png'));
    const rows = techniqueRows(await pickRows(page).allInnerTexts()).slice(0, printed.rows.length);
    for (const [index, row] of rows.entries()) {
      const technique = printed.rows[index]?.technique ?? '';
      const name = new RegExp(`^  ${technique}:\\n    name: (.+)$`, 'm').exec(route)?.[1] ?? technique;
      assert.ok(row.startsWith(name), `Row ${index + 1}: ${row} is not ${name}`);
    }
    await page.keyboard.press('Escape');
  });

  it('shows the week and the other views in the panel, also after the window is loaded again', async () => {
    const { page } = sample;
    const frame = await openPanel(page);
    await settled(frame);
    assert.equal(await frame.locator('.week-days .day').count(), 7);
    await screenshot(page, join(pictures, 'week.png'));
    await chooseView(frame, 'Ranking');
    assert.equal(await frame.locator('.ranked').count(), printed.rows.length);
    await Promise.all([page.waitForEvent('load'), runCommand(page, 'Developer: Reload Window')]);
    const again = await panelFrame(page);
    await settled(again);
    assert.equal(await again.locator('.ranked').count(), printed.rows.length);
    await runCommand(page, 'View: Close All Editors');
  });

  it('says that earlier versions are not to be had in a browser', async () => {
    const { page } = sample;
    await openListed(page, ROUTE);
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
    await runCommand(page, 'Routewright: Compare with an Earlier Version');
    const message = messages(page).filter({ hasText: 'git, which cannot be started in a browser' });
    await message.waitFor({ timeout: WAIT });
    await screenshot(page, join(pictures, 'earlier.png'));
  });

  it('compares with another route, although the folder cannot be searched', async () => {
    const { page, folder } = sample;
    await writeFile(join(folder, 'shorter.route.yaml'), route.replace('category: any%', 'category: short'));
    await runCommand(page, 'Routewright: Compare Routes');
    const other = pickRows(page).filter({ hasText: 'shorter.route.yaml' });
    await other.waitFor({ timeout: WAIT });
    await pickRows(page).filter({ hasText: 'An Earlier Version of It' }).getByText('not here').waitFor();
    await screenshot(page, join(pictures, 'compare.png'));
    await other.click();
    const compared = (await panelFrame(page)).locator('.compare-view .sides').getByText('shorter.route.yaml');
    await compared.first().waitFor({ timeout: WAIT });
  });
});

describe('Practice in an editor that runs in the browser alone', () => {
  let sample: OpenSample;
  let frame: Frame;
  const saved = (): Promise<string> => readFile(join(sample.folder, 'lanternfall.practice.yaml'), 'utf8');
  const workers = async (): Promise<number> => {
    const item = sample.page.locator('.statusbar-item[id*="someone.workers"]').filter({ hasText: /[1-9]/ });
    const text = await item.innerText({ timeout: WAIT });
    return Number(/\d+/.exec(text)?.[0] ?? 0);
  };

  before(async () => {
    sample = await openOnWeb();
  });
  after(() => sample?.close());

  it('counts by key, and keeps what was counted where the window is loaded again', async () => {
    const { page } = sample;
    await openListed(page, 'lanternfall.practice.yaml');
    frame = await startBlock(page, 'Crate vault');
    await pressTape(page, frame, 'lmllm');
    await screenshot(page, join(pictures, 'practice.png'));
    await Promise.all([page.waitForEvent('load'), runCommand(page, 'Developer: Reload Window')]);
    frame = await practiceFrame(page);
    await frame.locator('#attempts').filter({ hasText: /^5$/ }).waitFor({ timeout: WAIT });
  });

  it('goes on where the server ends by itself, which is told', async () => {
    const { page } = sample;
    const before = await workers();
    await runCommand(page, END);
    await messages(page).filter({ hasText: 'ended and was started again' }).waitFor({ timeout: WAIT });
    assert.equal(await workers(), before + 1);
    await screenshot(page, join(pictures, 'restarted.png'));
    await frame.locator('h1').click();
    await takesKeys(frame);
    await frame.locator('#attempts').filter({ hasText: /^5$/ }).waitFor({ timeout: WAIT });
    await pressTape(page, frame, 'mml');
  });

  it('stands in the file once the block has ended and the file is saved', async () => {
    const { page } = sample;
    const before = await saved();
    await page.keyboard.press('e');
    await frame.locator('#practice[data-phase="rest"]').waitFor({ timeout: WAIT });
    assert.match(await frame.locator('#said').innerText(), /4 of 8 landed/);
    await screenshot(page, join(pictures, 'ended.png'));
    assert.equal(await saved(), before);
    await openFile(page, 'lanternfall.practice.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'tape: lmllmmml').waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    const text = await saved();
    assert.equal(text.split('tape: lmllmmml').length - 1, 1);
    assert.ok(text.startsWith(before.trimEnd()));
  });

  it('finds what is wrong with the server that came after', async () => {
    const { page } = sample;
    await addLineAtTop(page, 'unheard-of: 1');
    await findingAtTop(page).waitFor({ timeout: WAIT });
    const before = await workers();
    await runCommand(page, 'Routewright: Restart Server');
    await removeLineAtTop(page);
    await findingAtTop(page).waitFor({ state: 'detached', timeout: WAIT });
    assert.equal(await workers(), before + 1);
  });

  it('marks no route as missing as long as the folder is being listed', async () => {
    const { page } = sample;
    let asked = 0;
    let listed = (): void => undefined;
    const list = new Promise<void>((resolve) => (listed = resolve));
    await page.context().route(/\/folder\/.*\?list$/, async (request) => {
      asked++;
      await list;
      await request.continue();
    });
    await runCommand(page, 'Routewright: Restart Server');
    await addLineAtTop(page, 'unheard-of: 1');
    await findingAtTop(page).waitFor({ timeout: WAIT });
    assert.ok(asked > 0, 'The folder was not listed late.');
    await screenshot(page, join(pictures, 'listing.png'));
    assert.equal(await page.locator(FINDING).count(), 1);
    listed();
    await removeLineAtTop(page);
    await findingAtTop(page).waitFor({ state: 'detached', timeout: WAIT });
    await runCommand(page, 'Routewright: Rank Next Skill');
    await ranked(page).waitFor({ timeout: WAIT });
    await page.keyboard.press('Escape');
    assert.equal(await page.locator(FINDING).count(), 0);
  });
});

/**
 * Opens a file from the explorer: the editor does not search this kind of folder, so quick open does not list its
 * files.
 */
async function openListed(page: Page, name: string): Promise<void> {
  await page.locator('.explorer-folders-view .monaco-list-row').filter({ hasText: name }).dblclick();
  await waitForKeyboard(page, name);
}

/** The first row of a ranking; the palette's own rows may still be visible for a moment. */
function ranked(page: Page): Locator {
  return pickRows(page).filter({ hasText: 'per hour' }).first();
}

/**
 * Points at the name in a line, again and again, until a hover shows a text: no hover appears for a pointer that was
 * there too early.
 */
async function pointAt(page: Page, line: Locator, text: string): Promise<void> {
  const hover = page.locator('.monaco-hover:visible').filter({ hasText: text });
  const end = Date.now() + WAIT;
  for (let x = 40; (await hover.count()) === 0 && Date.now() < end; x = x === 40 ? 42 : 40) {
    await line.hover({ position: { x, y: 9 } });
    await hover.waitFor({ timeout: 3000 }).catch(() => undefined);
  }
  await hover.waitFor({ timeout: 3000 });
}

async function addLineAtTop(page: Page, text: string): Promise<void> {
  await goTo(page, 1);
  await page.keyboard.type(`${text}\n`);
}

async function removeLineAtTop(page: Page): Promise<void> {
  await goTo(page, 1);
  await page.keyboard.press('Control+Shift+K');
}

/** The underlining in the first line of the active editor. */
function findingAtTop(page: Page): Locator {
  return page.locator('.editor-group-container.active .view-overlays > div:first-child').locator(UNDERLINE);
}
