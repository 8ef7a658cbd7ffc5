import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Frame, Locator, Page } from 'playwright-core';
import {
  activeTab,
  answer,
  openFile,
  pickInput,
  pickRows,
  runCommand,
  until,
  waitForKeyboard,
} from '../host/workbench.ts';
import { openPanel, settled } from './panelFrame.ts';
import { lineWith, messages, openSample, type OpenSample } from './sample.ts';

const LIMIT_MS = 40_000;
const route = `game: Harbor
category: any%
segments:
  - { id: quay, time: 1:30, techniques: [crate-vault] }
techniques:
  crate-vault: { name: Crate vault, difficulty: 3, saves: 3, loses: 1 }
`;
const log = (runner: string, landed: number, of = 'harbor.route.yaml'): string =>
  `route: ${of}\nrunner: ${JSON.stringify(runner)}\nsessions:\n  - start: 2026-11-05T19:30\n    blocks:\n` +
  `      - { technique: crate-vault, minutes: 25, landed: [${landed}, 104] }\n`;
/** A name that would be an icon and a link, were it not a name. */
const HOSTILE = 'Bo $(gear) [x](command:y)';

describe('logs of several runners, by keyboard', () => {
  let sample: OpenSample;
  let frame: Frame;
  before(async () => {
    sample = await openSample({
      files: {
        'crew/harbor.route.yaml': route,
        'crew/ada.practice.yaml': log('Ada', 100),
        'crew/bo.practice.yaml': log(HOSTILE, 4),
        'crew/harbor.week.yaml': 'route: harbor.route.yaml\ndays: { mon: 60, tue: 60 }\n',
        'club/pier.route.yaml': route.replace('Harbor', 'Pier'),
        'club/cy.practice.yaml': log('Cy', 50, 'pier.route.yaml'),
        'club/runners/di/di.practice.yaml': log('Di', 80, '../../pier.route.yaml'),
      },
    });
  });
  after(() => sample.close());

  /** Logs a block of 20 minutes by the command, and waits until it is in a log. */
  async function logBlock(page: Page, into: string): Promise<void> {
    await runCommand(page, 'Routewright: Log Block…');
    await pickRows(page).filter({ hasText: 'Crate vault' }).first().waitFor({ timeout: LIMIT_MS });
    await answer(page);
    for (const [at, text] of ['20', '7/30', ''].entries()) {
      await page
        .locator('.quick-input-title', { hasText: `(${at + 1} of 3)` })
        .waitFor({ timeout: LIMIT_MS });
      await answer(page, text);
    }
    await messages(page).filter({ hasText: into }).first().waitFor({ timeout: LIMIT_MS });
  }

  const item = (): Locator => sample.page.locator('.statusbar-item[id$="routewright.runner"]');

  it('are of nobody in particular at first: the status bar and the problems say so', async () => {
    const { page } = sample;
    await openFile(page, 'harbor.route.yaml');
    await item().filter({ hasText: 'Whose logs?' }).waitFor({ timeout: LIMIT_MS });
    const label = await item().getAttribute('aria-label');
    assert.match(label ?? '', /several runners: Ada and Bo \$/);
    await openFile(page, 'ada.practice.yaml');
    await page
      .locator('.editor-group-container.active .squiggly-error')
      .first()
      .waitFor({ timeout: LIMIT_MS });
  });

  it('are asked about once by a ranking, which then follows the runner picked', async () => {
    const { page } = sample;
    await openFile(page, 'harbor.route.yaml');
    await runCommand(page, 'Routewright: Rank Next Skill');
    const ada = pickRows(page).filter({ hasText: 'ada.practice.yaml' });
    await ada.waitFor({ timeout: LIMIT_MS });
    assert.match(await page.locator('.quick-input-title:visible').innerText(), /Whose logs count in crew\?/);
    // The second of the list, by keyboard.
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await ada.waitFor({ state: 'hidden' });
    await pickRows(page).filter({ hasText: 'Crate vault' }).first().waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Escape');
    await item().filter({ hasText: 'Bo $ (gear) [x] (command:y)' }).waitFor({ timeout: LIMIT_MS });
    assert.equal(await item().locator('.codicon-gear').count(), 0);
    // Asked once: the next ranking comes without the question.
    await runCommand(page, 'Routewright: Rank Next Skill');
    await pickRows(page).filter({ hasText: 'Crate vault' }).first().waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Escape');
  });

  it('get a block into the log of the runner who counts', async () => {
    const { page, folder } = sample;
    await openFile(page, 'harbor.route.yaml');
    await logBlock(page, 'bo.practice.yaml');
    await openFile(page, 'bo.practice.yaml');
    await lineWith(page, '[7, 30]').waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Control+S');
    await activeTab(page).filter({ hasText: 'bo.practice.yaml' }).and(page.locator(':not(.dirty)')).waitFor();
    assert.equal(await readFile(join(folder, 'crew', 'ada.practice.yaml'), 'utf8'), log('Ada', 100));
  });

  it('are chosen anew from the status bar, and the panel follows', async () => {
    const { page } = sample;
    await openFile(page, 'harbor.route.yaml');
    frame = await openPanel(page);
    await settled(frame);
    const rate = (): Promise<string> => frame.locator('#view').innerText();
    const bo = await rate();
    await item().click();
    const now = pickRows(page).filter({ hasText: 'counts now' });
    await now.waitFor({ timeout: LIMIT_MS });
    assert.match(await now.innerText(), /bo\.practice\.yaml/);
    await pickInput(page).fill('Ada');
    await page.keyboard.press('Enter');
    await item().filter({ hasText: 'Ada' }).waitFor({ timeout: LIMIT_MS });
    await until(page, async () => (await rate()) !== bo);
    await settled(frame);
    assert.notEqual(await rate(), bo);
  });

  it('are nobody’s where the chosen runner is gone: the panel says so, and asks', async () => {
    const { page } = sample;
    await page.keyboard.press('Control+1');
    await waitForKeyboard(page, 'harbor.route.yaml');
    await openFile(page, 'ada.practice.yaml');
    await waitForKeyboard(page, 'ada.practice.yaml');
    await page.keyboard.press('Control+Home');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('End');
    // Ada" becomes Adam".
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.type('m');
    await item().filter({ hasText: 'Whose logs?' }).waitFor({ timeout: LIMIT_MS });
    await frame.getByText('No log here names the runner Ada.').waitFor({ timeout: LIMIT_MS });
    await frame.getByRole('button', { name: 'Choose Whose Logs Count…' }).press('Enter');
    await pickRows(page).filter({ hasText: 'ada.practice.yaml' }).waitFor({ timeout: LIMIT_MS });
    await pickInput(page).fill('Adam');
    await page.keyboard.press('Enter');
    await item().filter({ hasText: 'Adam' }).waitFor({ timeout: LIMIT_MS });
    await settled(frame);
  });

  it('with folders of their own need no question: the file in front says whose are meant', async () => {
    const { page, folder } = sample;
    await page.keyboard.press('Control+1');
    await openFile(page, 'pier.route.yaml');
    await item().filter({ hasText: 'Cy' }).waitFor({ timeout: LIMIT_MS });
    await openFile(page, 'di.practice.yaml');
    await item().filter({ hasText: 'Di' }).waitFor({ timeout: LIMIT_MS });
    await logBlock(page, 'di.practice.yaml');
    await lineWith(page, '[7, 30]').waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Control+S');
    await activeTab(page).filter({ hasText: 'di.practice.yaml' }).and(page.locator(':not(.dirty)')).waitFor();
    const own = await readFile(join(folder, 'club', 'cy.practice.yaml'), 'utf8');
    assert.equal(own, log('Cy', 50, 'pier.route.yaml'));
  });

  it('and a choice comes before the file in front, until it is left to the files again', async () => {
    const { page } = sample;
    await item().click();
    const cy = pickRows(page).filter({ hasText: 'cy.practice.yaml' });
    await cy.waitFor({ timeout: LIMIT_MS });
    await pickRows(page).filter({ hasText: 'runners/di: di.practice.yaml · counts now' }).waitFor();
    assert.equal(await pickRows(page).filter({ hasText: 'Leave It to the Files' }).count(), 0);
    await pickInput(page).fill('Cy');
    await page.keyboard.press('Enter');
    await item().filter({ hasText: 'Cy' }).waitFor({ timeout: LIMIT_MS });
    await activeTab(page).filter({ hasText: 'di.practice.yaml' }).waitFor();
    await item().click();
    const leave = pickRows(page).filter({ hasText: 'Leave It to the Files' });
    await leave.waitFor({ timeout: LIMIT_MS });
    assert.match(await leave.innerText(), /Di for this file/);
    await pickInput(page).fill('Leave');
    await page.keyboard.press('Enter');
    await item().filter({ hasText: 'Di' }).waitFor({ timeout: LIMIT_MS });
  });
});
