import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { after, before, describe, it } from 'mocha';
import type { Frame } from 'playwright-core';
import {
  activeTab,
  answer,
  openFile,
  pickInput,
  pickRows,
  runCommand,
  screenshot,
  until,
  waitForKeyboard,
} from '../host/workbench.ts';
import { openPractice, practiceFrame, pressTape, startBlock, takesKeys } from './practiceFrame.ts';
import { chooseView, openPanel } from './panelFrame.ts';
import { lineWith, messages, ROOT, type OpenSample } from './sample.ts';

const WAIT = 120_000;
/** Forty attempts, as a tape. */
const TAPE = 'mmlmmlmlllmmlmlmllmlmmmllmlmllllmlmmllml';

describe('Start Practice Block, in the editor', () => {
  let sample: OpenSample & { readonly state: string };
  let frame: Frame;
  before(async () => {
    sample = await openPractice();
  });
  after(() => sample.close());

  const practice = (): string => join(sample.folder, 'lanternfall.practice.yaml');
  const saved = (): Promise<string> => readFile(practice(), 'utf8');

  it('shows the technique, where to start over, the time left, and takes the keys at once', async () => {
    const { page } = sample;
    frame = await startBlock(page, 'Crate vault');
    assert.equal(await frame.locator('h1').innerText(), 'Crate vault');
    assert.match(await frame.locator('#from').innerText(), /quay, left of the crates/);
    assert.match(await frame.locator('#left').innerText(), /^2\d:\d\d$/);
  });

  it('counts forty presses, goes on where the window is loaded again, and takes back', async () => {
    const { page } = sample;
    await pressTape(page, frame, TAPE.slice(0, 25));
    await Promise.all([page.waitForEvent('load'), runCommand(page, 'Developer: Reload Window')]);
    frame = await practiceFrame(page);
    await frame.locator('#attempts').filter({ hasText: /^25$/ }).waitFor({ timeout: WAIT });
    await frame.locator('h1').click();
    await takesKeys(frame);
    await pressTape(page, frame, `${TAPE.slice(25)}m`);
    await page.keyboard.press('Backspace');
    await frame.locator('#attempts').filter({ hasText: /^40$/ }).waitFor();
    const landed = [...TAPE].filter((letter) => letter === 'l').length;
    assert.equal(await frame.locator('#landed-count').innerText(), String(landed));
  });

  it('is in the status bar with its time and count; a click leads back to the keys', async () => {
    const { page } = sample;
    const item = page.locator('.statusbar-item[id*="routewright.block"]');
    await item.filter({ hasText: /Crate vault \d+:\d\d, \d+ of 40 landed$/ }).waitFor({ timeout: WAIT });
    await openFile(page, 'lanternfall.route.yaml');
    await item.filter({ hasText: 'keys go elsewhere' }).waitFor({ timeout: WAIT });
    const before = await item.innerText();
    await until(page, async () => (await item.innerText()) !== before, WAIT);
    await screenshot(page, join(ROOT, 'tests/output/practice-status.png'));
    await item.click();
    frame = await practiceFrame(page);
    await takesKeys(frame);
    await item.filter({ hasText: /landed$/ }).waitFor({ timeout: WAIT });
  });

  it('counts what the command line logs meanwhile', async () => {
    const run = promisify(execFile);
    const cli = join(ROOT, 'server', 'dist', 'cli.js');
    const env = { ...process.env, ROUTEWRIGHT_STATE_HOME: sample.state };
    await run(process.execPath, [cli, 'log', 'crate-vault', '--landed', practice()], { env });
    await frame.locator('#attempts').filter({ hasText: /^41$/ }).waitFor({ timeout: WAIT });
    await run(process.execPath, [cli, 'log', '--undo', practice()], { env });
    await frame.locator('#attempts').filter({ hasText: /^40$/ }).waitFor({ timeout: WAIT });
  });

  it('puts the block into the open file by an edit, which is then saved, once', async () => {
    const { page } = sample;
    const before = await saved();
    await page.keyboard.press('e');
    await frame.locator('#practice[data-phase="rest"]').waitFor({ timeout: WAIT });
    assert.match(await frame.locator('#said').innerText(), /(min|s) of Crate vault: \d+ of 40 landed\./);
    assert.equal(await frame.locator('#rest-title').innerText(), 'Rest');
    assert.match(await frame.locator('#rest-clock').innerText(), /^\d+:\d\d$/);
    assert.equal(await saved(), before);
    await openFile(page, 'lanternfall.practice.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, TAPE).waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    const text = await saved();
    assert.equal(text.split(TAPE).length - 1, 1);
    assert.ok(text.includes('technique: crate-vault'));
  });

  it('is taken out again by undo', async () => {
    const { page } = sample;
    await page.keyboard.press('Control+Z');
    await lineWith(page, TAPE).waitFor({ state: 'detached', timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    assert.ok(!(await saved()).includes(TAPE));
  });

  it('asks for two numbers where nothing was counted by key', async () => {
    const { page } = sample;
    frame = await startBlock(page, 'Gate roll');
    assert.match(await frame.locator('#notes').innerText(), /^Start the roll when the watchman's lantern/);
    assert.match(await frame.locator('#usual').innerText(), /^\d+.%$/);
    await frame.locator('#do-end').click();
    await frame.locator('#counts :focus').waitFor();
    await page.keyboard.type('12');
    await page.keyboard.press('Tab');
    await page.keyboard.type('20');
    await page.keyboard.press('Enter');
    await frame.locator('#practice[data-phase="rest"]').waitFor({ timeout: WAIT });
    await openFile(page, 'lanternfall.practice.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'landed: [12, 20]').waitFor({ timeout: WAIT });
  });

  it('saves the log from the rest, and offers it no more then', async () => {
    const { page } = sample;
    await page.locator('.statusbar-item[id*="routewright.block"]').click();
    frame = await practiceFrame(page);
    const save = frame.locator('#save');
    await save.click();
    await save.waitFor({ state: 'hidden', timeout: WAIT });
    await until(page, async () => (await saved()).includes('landed: [12, 20]'), WAIT);
  });

  it('stands still in a pause, and goes on where it was', async () => {
    const { page } = sample;
    await frame.locator('#close').click();
    frame = await startBlock(page, 'Lamp hop');
    await pressTape(page, frame, 'lm');
    await frame.locator('#pause').click();
    await frame.locator('#practice[data-phase="paused"]').waitFor({ timeout: WAIT });
    const left = await frame.locator('#left').innerText();
    await page.keyboard.press('l');
    await page.waitForTimeout(2500);
    assert.equal(await frame.locator('#left').innerText(), left);
    assert.equal(await frame.locator('#attempts').innerText(), '2');
    await frame.locator('#pause').click();
    await frame.locator('#practice[data-phase="block"]').waitFor({ timeout: WAIT });
    await pressTape(page, frame, 'l');
  });

  it('gives minutes back that were taken away, also where they made the time be up', async () => {
    const { page } = sample;
    const minutesLeft = async (): Promise<number> => parseInt(await frame.locator('#left').innerText(), 10);
    const step = async (id: string): Promise<void> => {
      const left = await frame.locator('#left').innerText();
      await frame.locator(id).click();
      await until(page, async () => (await frame.locator('#left').innerText()) !== left, WAIT);
    };
    const before = await minutesLeft();
    let taken = 0;
    for (; await frame.locator('#less').isVisible(); taken += 1) await step('#less');
    await frame.locator('#practice[data-phase="up"]').waitFor({ timeout: WAIT });
    for (; taken > 0; taken -= 1) await step('#more');
    await frame.locator('#practice[data-phase="block"]').waitFor({ timeout: WAIT });
    assert.ok(before - (await minutesLeft()) < 2, `${before} min were left, then ${await minutesLeft()}`);
    assert.equal(await frame.locator('#attempts').innerText(), '3');
  });

  it('says so where a letter of the block went into a file, and leads back', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.week.yaml');
    await page.keyboard.press('Control+End');
    await page.keyboard.press('l');
    const word = messages(page).filter({ hasText: '“l” went into lanternfall.week.yaml' });
    await word.getByRole('button', { name: 'Back to the Block' }).click({ timeout: WAIT });
    frame = await practiceFrame(page);
    await takesKeys(frame);
    await pressTape(page, frame, 'm');
  });
});

describe('Log Block, from the palette', () => {
  let sample: OpenSample;
  before(async () => {
    sample = await openPractice();
  });
  after(() => sample.close());

  it('logs a block by three fields, with what is wrong said in the field', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.practice.yaml');
    await runCommand(page, 'Routewright: Log Block…');
    await pickInput(page).and(page.locator('[aria-label*="Log a block"], [placeholder]')).first().waitFor();
    await pickInput(page).fill('Wall kick');
    await pickRows(page).filter({ hasText: 'Wall kick' }).first().click();
    const title = page.locator('.quick-input-title');
    await title.filter({ hasText: '1 of 3' }).waitFor();
    await pickInput(page).fill('soon');
    await page.locator('.quick-input-message').filter({ hasText: 'Minutes are a number' }).waitFor();
    await answer(page, '15');
    await title.filter({ hasText: '2 of 3' }).waitFor();
    await answer(page, 'lmmlll');
    await title.filter({ hasText: '3 of 3' }).waitFor();
    await answer(page, '');
    await messages(page).filter({ hasText: 'Wall kick, 15 min, 4 of 6 landed' }).waitFor({ timeout: WAIT });
    await waitForKeyboard(page, 'lanternfall.practice.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'tape: lmmlll').waitFor({ timeout: WAIT });
  });

  it('starts a block from its row in the ranking', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    const panel = await openPanel(page);
    await chooseView(panel, 'Ranking');
    const opener = panel.locator('.ranked .opener').first();
    const name = await opener.innerText();
    await opener.click();
    await panel.getByRole('button', { name: `Start a block of ${name}` }).click();
    await (await practiceFrame(page)).locator('h1').filter({ hasText: name }).waitFor({ timeout: WAIT });
  });
});
