import assert from 'node:assert/strict';
import { after, before, describe, it } from 'mocha';
import type { Locator } from 'playwright-core';
import { openFile, pickRows, runCommand } from '../host/workbench.ts';
import { messages, openSample, statusItem, type OpenSample } from './sample.ts';

const COMMAND = 'Routewright: Rank Next Skill';
/** A link that would close the side bar, and an icon. */
const HOSTILE = '[Lamp](command:workbench.action.closeSidebar) $(flame)';
const named = JSON.stringify(HOSTILE);

const files = {
  'stray/stray.practice.yaml': `route: ${JSON.stringify(`${HOSTILE}.route.yaml`)}\nsessions: []\n`,
  'evil/evil.route.yaml': `game: ${named}
category: any%
segments:
  - { id: harbor, name: ${named}, time: 1:30, techniques: [crate-vault] }
  - { id: yard, time: 2:08, techniques: [lamp-hop] }
techniques:
  crate-vault: { name: ${named}, difficulty: 3, saves: 3, loses: 1, cycle: 10 }
  lamp-hop: { name: ${named}, difficulty: 2, saves: 1.5, loses: 1, cycle: 10 }
`,
};

describe('names that hold commands and icons', () => {
  let sample: OpenSample;
  before(async () => {
    sample = await openSample({ files });
  });
  after(() => sample.close());

  /** Clicks all over the text of a message, so that a link in it is met wherever it is. */
  async function clickAllOver(text: Locator): Promise<void> {
    const box = await text.boundingBox();
    assert.ok(box);
    const step = 12;
    for (let y = box.y + step / 2; y < box.y + box.height; y += step)
      for (let x = box.x + step / 2; x < box.x + box.width; x += step) await sample.page.mouse.click(x, y);
  }

  async function holdsNothing(message: Locator): Promise<void> {
    const { page } = sample;
    const sideBar = page.locator('.part.sidebar');
    assert.ok(await sideBar.isVisible());
    const text = message.locator('.notification-list-item-message');
    // Read before the clicks: the editor hides a message after a while.
    assert.match(await text.innerText(), /\[Lamp\] \(command:/);
    assert.equal(await text.locator('a, .codicon-flame').count(), 0);
    await clickAllOver(text);
    // Whatever the click ran would show within this time.
    await page.waitForTimeout(500);
    assert.ok(await sideBar.isVisible(), 'A click on the message ran a command.');
    await runCommand(page, 'Notifications: Clear All Notifications');
  }

  it('are text in a message, and a click on them runs nothing', async () => {
    const { page } = sample;
    await openFile(page, 'stray.practice.yaml');
    await runCommand(page, COMMAND);
    const message = messages(page).filter({ hasText: 'belongs to the route' });
    await message.waitFor();
    await holdsNothing(message);
  });

  it('are text in the status bar, in lenses, in a list and in the question after it', async () => {
    const { page } = sample;
    await openFile(page, 'evil.route.yaml');
    const item = statusItem(page).filter({ hasText: 'Lamp' });
    await item.waitFor();
    assert.equal(await item.locator('.codicon-flame').count(), 0);
    const lens = page.locator('.codelens-decoration').filter({ hasText: 'Expected' }).first();
    await lens.waitFor();
    assert.equal(await page.locator('.codelens-decoration .codicon-flame').count(), 0);
    await runCommand(page, COMMAND);
    const row = pickRows(page).filter({ hasText: 'per hour' }).first();
    await row.waitFor();
    assert.equal(await page.locator('.quick-input-widget .codicon-flame').count(), 0);
    await row.click();
    const question = messages(page).filter({ hasText: 'Take up' });
    await question.waitFor();
    await holdsNothing(question);
  });
});
