/**
 * Takes nine pictures of practice in the editor, from the start of a block to its rest and, large, the next one: `npx tsx
 * tests/editor/practiceScreenshots.ts [THEME ...]`, after a build. They go to
 * tests/output/practice-THEME-1-start.png and so on. The script shortens the block, so that its time is up soon.
 */
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Frame, Page } from 'playwright-core';
import { describeFailure } from './host/problem.ts';
import { pictureSettings, pictureThemes, themesAsked, type PictureTheme } from './pictures.ts';
import { screenshot } from './host/workbench.ts';
import { openPractice, pressTape, startBlock } from './person/practiceFrame.ts';
import { ROOT } from './person/sample.ts';

const OUTPUT = join(ROOT, 'tests', 'output');
/** Longest wait for a block's time to be up, ms. */
const UP_LIMIT_MS = 120_000;
/** Milliseconds between two attempts: much longer than the cycle, so that the view says that attempts come slowly. */
const SLOW_MS = 3200;

async function takeAll(theme: PictureTheme): Promise<void> {
  const viewport = { width: 1500, height: 900 };
  const week = await readFile(join(ROOT, 'samples', 'lanternfall.week.yaml'), 'utf8');
  const route = await readFile(join(ROOT, 'samples', 'lanternfall.route.yaml'), 'utf8');
  const sample = await openPractice({
    colorTheme: pictureThemes[theme],
    viewport,
    settings: pictureSettings,
    files: {
      'lanternfall.week.yaml': week.replace(
        /^days: .*$/m,
        'days: { mon: 100, tue: 100, wed: 100, thu: 100, fri: 100, sat: 100, sun: 100 }',
      ),
      // A technique with a short cycle, so that a minute is enough.
      'lanternfall.route.yaml': route.replace(
        'attempt: 4, reload: 1, from: "quay',
        'attempt: 0.5, reload: 0.5, from: "quay',
      ),
    },
  });
  const { page } = sample;
  const take = async (number: number, name: string): Promise<void> => {
    await page.mouse.move(viewport.width / 4, viewport.height - 4);
    const file = join(OUTPUT, `practice-${theme}-${number}-${name}.png`);
    await screenshot(page, file);
    process.stdout.write(`${file}\n`);
  };
  try {
    const frame = await startBlock(page, 'Crate vault');
    await frame.locator('#actions').waitFor();
    await take(1, 'start');
    await pressTape(page, frame, 'mmlmml');
    await page.keyboard.press('Backspace');
    await frame.locator('#attempts').filter({ hasText: /^5$/ }).waitFor();
    await take(2, 'counting');
    await slowly(page, frame, 'lmllmllml');
    await frame.locator('#slow').waitFor();
    await take(3, 'slow');
    await page.locator('.tab').filter({ hasText: 'lanternfall.practice.yaml' }).click();
    await frame.locator('#focus').waitFor();
    await take(4, 'no-focus');
    await frame.locator('h1').click();
    for (let times = 0; times < 5; times += 1) await frame.locator('#less').click();
    await frame.locator('#practice[data-phase="up"]').waitFor({ timeout: UP_LIMIT_MS });
    await take(5, 'time-up');
    await frame.locator('#do-end').click();
    await frame.locator('#practice[data-phase="rest"]').waitFor();
    await frame.locator('#next-text').filter({ hasNotText: 'Looking up' }).waitFor({ timeout: UP_LIMIT_MS });
    await take(6, 'rest');
    await frame.locator('#large').click();
    await take(7, 'rest-large');
    await frame.locator('#next').click();
    await frame.locator('#practice[data-phase="block"]').waitFor();
    await pressTape(page, frame, 'lml');
    await take(8, 'large');
    await frame.locator('#pause').click();
    await frame.locator('#practice[data-phase="paused"]').waitFor();
    await take(9, 'paused');
  } finally {
    await sample.close();
  }
}

async function slowly(page: Page, frame: Frame, tape: string): Promise<void> {
  for (const letter of tape) {
    await page.waitForTimeout(SLOW_MS);
    await pressTape(page, frame, letter);
  }
}

async function main(argv: readonly string[]): Promise<void> {
  await mkdir(OUTPUT, { recursive: true });
  const asked = themesAsked(argv);
  for (const theme of asked) await takeAll(theme);
}

try {
  await main(process.argv.slice(2));
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}
