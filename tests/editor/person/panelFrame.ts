import type { Frame, Page } from 'playwright-core';
import { runCommand } from '../host/workbench.ts';

const COMMAND = 'Routewright: Preview Week';
const LIMIT_MS = 120_000;

/** Opens the panel from the palette and waits until it has content. */
export async function openPanel(page: Page): Promise<Frame> {
  await runCommand(page, COMMAND);
  return panelFrame(page);
}

/** The frame of the panel's page, after it has been filled. */
export async function panelFrame(page: Page): Promise<Frame> {
  const end = Date.now() + LIMIT_MS;
  while (Date.now() < end) {
    for (const frame of page.frames()) {
      const filled = await frame
        .locator('#panel .route')
        .count()
        .catch(() => 0);
      if (filled > 0) return frame;
    }
    await page.waitForTimeout(50);
  }
  throw new Error('The panel did not appear.');
}

/** Chooses a view and waits until it is shown and nothing is being computed. */
export async function chooseView(frame: Frame, title: string): Promise<void> {
  await frame.getByRole('tab', { name: title }).click();
  await settled(frame);
}

/** Waits until the panel shows the numbers of the current files. */
export async function settled(frame: Frame): Promise<void> {
  await frame.locator('#view[aria-busy="false"]').waitFor({ timeout: LIMIT_MS });
}
