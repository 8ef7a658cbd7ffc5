import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Frame } from 'playwright-core';
import { activeTab, answer, openFile, pickInput, pickRows, runCommand } from '../host/workbench.ts';
import { openPractice, practiceFrame, pressTape, startBlock, takesKeys } from './practiceFrame.ts';
import { panelFrame } from './panelFrame.ts';
import { openRunPage } from './runFrame.ts';
import { lineWith, messages, type OpenSample } from './sample.ts';

const WAIT = 120_000;

describe('practice in a folder that the person does not trust', () => {
  let sample: OpenSample;
  let frame: Frame;
  before(async () => {
    sample = await openPractice({ keepTrust: true });
  });
  after(() => sample.close());

  const saved = (kind: string): Promise<string> =>
    readFile(join(sample.folder, `lanternfall.${kind}.yaml`), 'utf8');

  it('begins a block and says that logging works the same', async () => {
    const { page } = sample;
    await page.locator('.statusbar-item').filter({ hasText: 'Restricted Mode' }).waitFor();
    frame = await startBlock(page, 'Crate vault');
    await frame.locator('#promise').filter({ hasText: 'not trusted, logging works the same' }).waitFor();
    assert.match(await frame.locator('#promise').innerText(), /kept at once, even if the editor crashes/);
  });

  it('counts by key, takes back, and goes on after the window is loaded again', async () => {
    const { page } = sample;
    await pressTape(page, frame, 'lmmlm');
    await page.keyboard.press('Backspace');
    await frame.locator('#attempts').filter({ hasText: /^4$/ }).waitFor();
    await Promise.all([page.waitForEvent('load'), runCommand(page, 'Developer: Reload Window')]);
    frame = await practiceFrame(page);
    await frame.locator('#attempts').filter({ hasText: /^4$/ }).waitFor({ timeout: WAIT });
    await frame.locator('h1').click();
    await takesKeys(frame);
    await pressTape(page, frame, 'l');
  });

  it('ends the block: it is in the file, once saved, and the next one of the plan is offered', async () => {
    const { page } = sample;
    await page.keyboard.press('e');
    await frame.locator('#practice[data-phase="rest"]').waitFor({ timeout: WAIT });
    await frame
      .locator('#next-text')
      .filter({ hasText: /Next in today's plan|no further block/ })
      .waitFor({ timeout: WAIT });
    await openFile(page, 'lanternfall.practice.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'tape: lmmll').waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    assert.equal((await saved('practice')).split('tape: lmmll ').length - 1, 1);
  });

  it('logs a block and a run from the palette', async () => {
    const { page } = sample;
    await runCommand(page, 'Routewright: Log Block…');
    await pickInput(page).fill('Wall kick');
    await pickRows(page).filter({ hasText: 'Wall kick' }).first().click();
    const title = page.locator('.quick-input-title');
    await title.filter({ hasText: '1 of 3' }).waitFor();
    await answer(page, '15');
    await title.filter({ hasText: '2 of 3' }).waitFor();
    await answer(page, '4/6');
    await title.filter({ hasText: '3 of 3' }).waitFor();
    await answer(page, '');
    await messages(page).filter({ hasText: 'Wall kick, 15 min, 4 of 6 landed' }).waitFor({ timeout: WAIT });
    await openFile(page, 'lanternfall.runs.yaml');
    const run = await openRunPage(page);
    await run.locator('#total').fill('42:10.5');
    await run.locator('#none-tried').click();
    await run.locator('#save').click();
    await (await panelFrame(page)).getByText('The run tried no').waitFor({ timeout: WAIT });
    await openFile(page, 'lanternfall.runs.yaml');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'total: 42:10.5').waitFor({ timeout: WAIT });
  });
});
