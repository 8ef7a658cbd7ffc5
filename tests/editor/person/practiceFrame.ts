import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame, Page } from 'playwright-core';
import { openFile, pickInput, pickRows, runCommand, until } from '../host/workbench.ts';
import { openSample, type OpenSample, type SampleOptions } from './sample.ts';

const COMMAND = 'Routewright: Start Practice Block';
const LIMIT_MS = 120_000;

/** The sample with a temporary state folder, so that the journals of this machine are not touched. */
export async function openPractice(
  options: SampleOptions = {},
): Promise<OpenSample & { readonly state: string }> {
  const state = await mkdtemp(join(tmpdir(), 'practice-state-'));
  await mkdir(state, { recursive: true });
  const remove = (): Promise<void> => rm(state, { recursive: true, force: true, maxRetries: 5 });
  try {
    const sample = await openSample({
      ...options,
      // The journal uses the machine's clock, so the plan has to use it too.
      settings: { 'routewright.today': '', ...options.settings },
      env: { ...options.env, ROUTEWRIGHT_STATE_HOME: state },
    });
    return { ...sample, state, close: () => sample.close().finally(remove) };
  } catch (error) {
    await remove();
    throw error;
  }
}

/**
 * Starts a block of a technique by its name, from the palette, as a person does; from then on the view handles its
 * keys.
 */
export async function startBlock(page: Page, name: string): Promise<Frame> {
  await openFile(page, 'lanternfall.practice.yaml');
  await runCommand(page, COMMAND);
  await pickInput(page).and(page.locator('[placeholder*="plan"]')).waitFor({ timeout: LIMIT_MS });
  await pickInput(page).fill(name);
  await pickRows(page).filter({ hasText: name }).first().click();
  const frame = await practiceFrame(page);
  await takesKeys(frame);
  return frame;
}

/** Waits until the view has the keyboard focus; until then it shows that it needs a click. */
export async function takesKeys(frame: Frame): Promise<void> {
  await until(frame.page(), () => frame.evaluate<boolean>('document.hasFocus()'), LIMIT_MS);
  await frame.locator('#focus').waitFor({ state: 'hidden', timeout: LIMIT_MS });
}

/** The frame of the view's page, after it shows a block. */
export async function practiceFrame(page: Page): Promise<Frame> {
  const end = Date.now() + LIMIT_MS;
  while (Date.now() < end) {
    for (const frame of page.frames()) {
      const filled = await frame
        .locator('#practice:not([data-phase=""])')
        .count()
        .catch(() => 0);
      if (filled > 0) return frame;
    }
    await page.waitForTimeout(50);
  }
  throw new Error('The practice view did not appear.');
}

/** Presses l and m in the order of a tape, each after the one before was counted. */
export async function pressTape(page: Page, frame: Frame, tape: string): Promise<void> {
  const before = Number(await frame.locator('#attempts').innerText());
  for (const [index, letter] of [...tape].entries()) {
    await page.keyboard.press(letter);
    await frame
      .locator('#attempts')
      .filter({ hasText: new RegExp(`^${before + index + 1}$`) })
      .waitFor();
  }
}
