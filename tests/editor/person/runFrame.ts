import type { Frame, Page } from 'playwright-core';
import { runCommand } from '../host/workbench.ts';

const COMMAND = 'Routewright: Log Run';
const LIMIT_MS = 120_000;

/** Opens the page of a run from the palette, and waits until it asks for a time. */
export async function openRunPage(page: Page): Promise<Frame> {
  await runCommand(page, COMMAND);
  return runFrame(page);
}

/** The frame of the page of a run, after it has its fields. */
export async function runFrame(page: Page): Promise<Frame> {
  const end = Date.now() + LIMIT_MS;
  while (Date.now() < end) {
    for (const frame of page.frames()) {
      const filled = await frame
        .locator('#run #time-0')
        .count()
        .catch(() => 0);
      if (filled > 0) return frame;
    }
    await page.waitForTimeout(50);
  }
  throw new Error('The page of a run did not appear.');
}
