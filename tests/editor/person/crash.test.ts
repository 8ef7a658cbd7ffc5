import assert from 'node:assert/strict';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Locator, Page } from 'playwright-core';
import { goTo, openFile, runCommand, screenshot, until } from '../host/workbench.ts';
import { openPractice, pressTape, startBlock, takesKeys } from './practiceFrame.ts';
import { lineWith, messages, ROOT, statusItem, type OpenSample } from './sample.ts';
import { END, END_UNDER_LOAD, serverEnder } from './serverEnder.ts';

const WAIT = 120_000;
const pictures = join(ROOT, 'tests/output/crash');

describe('A server that ends by itself', () => {
  let sample: OpenSample;
  let removeEnder: () => Promise<void>;

  before(async () => {
    await mkdir(pictures, { recursive: true });
    const ender = await serverEnder();
    removeEnder = ender.remove;
    sample = await openPractice({ extensionsDir: ender.folder });
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
    if ((await threads()) > 0) return;
    // The editor started our extension first, so the other one did not see the server's first thread; it sees the next
    // one.
    await endAndWait('Routewright: Restart Server');
  });
  after(async () => {
    await sample?.close();
    await removeEnder?.();
  });

  const threads = async (): Promise<number> => {
    const text = await sample.page.locator('.statusbar-item[id*="someone.threads"]').innerText();
    return Number(/\d+/.exec(text)?.[0] ?? 0);
  };
  /** Ends the server and waits for the next one. */
  const endAndWait = async (command: string): Promise<void> => {
    const before = await threads();
    await runCommand(sample.page, command);
    await until(sample.page, async () => (await threads()) !== before, WAIT);
    assert.equal(await threads(), before + 1);
  };

  it('comes back under load with the text as it stands, and says so', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
    await endAndWait(END_UNDER_LOAD);
    await lineWith(page, 'unheard-of: 1').waitFor({ timeout: WAIT });
    await goTo(page, 1);
    await findingAtTop(page).waitFor({ timeout: WAIT });
    await restarted(page).waitFor({ timeout: WAIT });
    await screenshot(page, join(pictures, 'restarted.png'));
    await page.keyboard.press('Control+Shift+K');
    await findingAtTop(page).waitFor({ state: 'detached', timeout: WAIT });
  });

  it('loses no attempt of a block that runs', async () => {
    const { page } = sample;
    const frame = await startBlock(page, 'Crate vault');
    await pressTape(page, frame, 'lmllm');
    await endAndWait(END);
    await frame.locator('h1').click();
    await takesKeys(frame);
    await frame.locator('#attempts').filter({ hasText: /^5$/ }).waitFor({ timeout: WAIT });
    await pressTape(page, frame, 'mml');
    assert.equal(await frame.locator('#landed-count').innerText(), '4');
    await page.keyboard.press('e');
    await frame.locator('#practice[data-phase="rest"]').waitFor({ timeout: WAIT });
    assert.match(await frame.locator('#said').innerText(), /4 of 8 landed/);
    await openFile(page, 'lanternfall.practice.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'tape: lmllmmml').waitFor({ timeout: WAIT });
  });

  it('is told of once', async () => {
    const { page } = sample;
    await runCommand(page, 'Notifications: Show Notifications');
    const listed = page.locator('.notifications-center .notification-list-item');
    await listed.first().waitFor({ timeout: WAIT });
    const texts = await listed.allInnerTexts();
    assert.equal(texts.filter((text) => text.includes('was started again')).length, 1, texts.join('\n'));
    await runCommand(page, 'Notifications: Hide Notifications');
  });

  it('stays stopped where it ends over and over, and is started again by a button', async () => {
    const { page } = sample;
    for (let round = 0; round < 2; round++) await endAndWait(END);
    await runCommand(page, END);
    const stopped = messages(page).filter({ hasText: 'ended 5 times within three minutes' });
    await stopped.waitFor({ timeout: WAIT });
    await screenshot(page, join(pictures, 'stopped.png'));
    const before = await threads();
    // There is no event for a server that stays stopped. One that is started again would run after this pause.
    await page.waitForTimeout(1500);
    assert.equal(await threads(), before);
    await stopped.getByRole('button', { name: 'Restart Server' }).click();
    await openFile(page, 'lanternfall.route.yaml');
    await goTo(page, 1);
    await page.keyboard.type('unheard-of: 2\n');
    await findingAtTop(page).waitFor({ timeout: WAIT });
    assert.equal(await threads(), before + 1);
    await page.keyboard.press('Control+Z');
  });

  it('is restarted by a command although it runs', async () => {
    const { page } = sample;
    await endAndWait('Routewright: Restart Server');
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
  });

  it('is reported without a name or a word of the files', async () => {
    const { page } = sample;
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await runCommand(page, 'Routewright: Gather a Bug Report');
    await page.locator('.tab.active').filter({ hasText: 'Untitled' }).waitFor({ timeout: WAIT });
    await lineWith(page, 'Nothing was sent').waitFor({ timeout: WAIT });
    await screenshot(page, join(pictures, 'report.png'));
    await page.keyboard.press('Control+A');
    await page.keyboard.press('Control+C');
    const report = await page.evaluate<string>('navigator.clipboard.readText()');
    assert.match(report, /^- Routewright \d+\.\d+\.\d+$/m);
    assert.match(report, /^- VS Code 1\.\d+\.\d+/m);
    assert.match(report, /^- files open: .*\broute\b/m);
    assert.match(report, /ended by itself 5 times/);
    assert.match(report, /The server ended by itself/);
    assert.doesNotMatch(report, /lanternfall|crate|vault|harbor|unheard|[\\/]tmp[\\/]/i);
  });
});

function restarted(page: Page): Locator {
  return messages(page).filter({ hasText: 'ended and was started again' });
}

/** The underlining in the first line of the active editor. */
function findingAtTop(page: Page): Locator {
  return page.locator(
    '.editor-group-container.active .view-overlays > div:first-child :is(.squiggly-error, .squiggly-warning)',
  );
}
