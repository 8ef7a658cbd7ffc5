import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Locator, Page } from 'playwright-core';
import { goTo, openFile, runCommand, screenshot } from '../host/workbench.ts';
import { messages, openSample, ROOT, statusItem, type OpenSample } from './sample.ts';

const WAIT = 120_000;
const pictures = join(ROOT, 'tests/output/hang');

describe('A server that hangs on a file', () => {
  let sample: OpenSample;

  before(async () => {
    await mkdir(pictures, { recursive: true });
    const fault = new URL('./endlessText.mjs', import.meta.url);
    sample = await openSample({ env: { NODE_OPTIONS: `--import ${fault.href}` } });
    await openFile(sample.page, 'lanternfall.week.yaml');
    await statusItem(sample.page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
  });
  after(() => sample?.close());

  const hangs = async (page: Page): Promise<void> => {
    await goTo(page, 1);
    await page.keyboard.type('# without an end\n');
  };

  it('is told of after a while, and started again without that file by one button', async () => {
    const { page } = sample;
    await hangs(page);
    const asked = messages(page).filter({ hasText: 'working on lanternfall.week.yaml for 20 seconds' });
    await asked.waitFor({ timeout: WAIT });
    await screenshot(page, join(pictures, 'asked.png'));
    await asked.getByRole('button', { name: 'Restart Without It' }).click();
    await messages(page)
      .filter({ hasText: 'started again without lanternfall.week.yaml' })
      .waitFor({ timeout: WAIT });
    await squiggle(page).waitFor({ timeout: WAIT });
    await screenshot(page, join(pictures, 'without.png'));
  });

  it('answers for the other files', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
    await goTo(page, 1);
    await page.keyboard.type('unheard-of: 2\n');
    await squiggle(page).waitFor({ timeout: WAIT });
    await goTo(page, 1);
    await page.keyboard.press('Control+Shift+K');
    await squiggle(page).waitFor({ state: 'detached', timeout: WAIT });
  });

  it('reads the file again once it is edited', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.week.yaml');
    await goTo(page, 1);
    await squiggle(page).waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+Shift+K');
    await squiggle(page).waitFor({ state: 'detached', timeout: WAIT });
  });

  it('is told of by Restart Server, too, and starts with all files where the server did not hang', async () => {
    const { page } = sample;
    await hangs(page);
    await page.waitForTimeout(500);
    await runCommand(page, 'Routewright: Restart Server');
    await messages(page)
      .filter({ hasText: 'started again without lanternfall.week.yaml' })
      .last()
      .waitFor({ timeout: WAIT });
    await goTo(page, 1);
    await page.keyboard.press('Control+Shift+K');
    await runCommand(page, 'Routewright: Restart Server');
    await statusItem(page).filter({ hasText: 'Lanternfall' }).waitFor({ timeout: WAIT });
    await squiggle(page).waitFor({ state: 'detached', timeout: WAIT });
  });
});

/** The underlining in the first line of the active editor. */
function squiggle(page: Page): Locator {
  return page.locator(
    '.editor-group-container.active .view-overlays > div:first-child :is(.squiggly-error, .squiggly-warning)',
  );
}
