/**
 * Takes pictures of the extension in the editor: `npx tsx tests/editor/screenshots.ts`, after a build.
 *
 * client/media/rank-next-skill.png is the one that the README shows. The others, in tests/output/, are there to
 * be looked at: the same list in every kind of theme, and hover, completion and problems in the light one.
 */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describeFailure } from './host/problem.ts';
import { goTo, openFile, pickRows, runCommand, screenshot } from './host/workbench.ts';
import { openSample, ROOT, statusItem } from './person/sample.ts';
import { plantedFiles } from './suite/support/planted.ts';

const OUTPUT = join(ROOT, 'tests', 'output');
const MEDIA = join(ROOT, 'client', 'media');
const LIGHT = 'Default Light Modern';
const THEMES = {
  light: LIGHT,
  dark: 'Default Dark Modern',
  'high-contrast-light': 'Default High Contrast Light',
  'high-contrast-dark': 'Default High Contrast',
} as const;
const VIEWPORT = { width: 1280, height: 800 };
/** What would change from one picture to the next, or distract from the files. */
const SETTINGS = {
  'editor.cursorBlinking': 'solid',
  'editor.minimap.enabled': false,
  'workbench.hover.delay': 60_000,
  'window.title': '${activeEditorShort}',
};

/** Opens the sample in one theme, has something shown there, and closes it. */
async function inEditor(
  colorTheme: string,
  work: (page: Page) => Promise<void>,
  files: Readonly<Record<string, string>> = {},
): Promise<void> {
  const sample = await openSample({ colorTheme, viewport: VIEWPORT, settings: SETTINGS, files });
  try {
    await work(sample.page);
  } finally {
    await sample.close();
  }
}

/** Brings the route to front, at a technique, once the extension has read it. */
async function showRoute(page: Page, line: number): Promise<void> {
  await openFile(page, 'lanternfall.route.yaml');
  await statusItem(page).waitFor();
  await goTo(page, line);
}

async function take(page: Page, file: string): Promise<void> {
  // The pointer rests where nothing answers to it.
  await page.mouse.move(VIEWPORT.width - 2, VIEWPORT.height / 2);
  await screenshot(page, file);
  process.stdout.write(`${file}\n`);
}

async function ranking(page: Page): Promise<void> {
  await showRoute(page, 180);
  await runCommand(page, 'Routewright: Rank Next Skill');
  await pickRows(page).filter({ hasText: 's per hour' }).first().waitFor();
}

async function main(): Promise<void> {
  await mkdir(OUTPUT, { recursive: true });
  await mkdir(MEDIA, { recursive: true });
  for (const [name, theme] of Object.entries(THEMES)) {
    await inEditor(theme, async (page) => {
      await ranking(page);
      await take(page, join(OUTPUT, `rank-next-skill-${name}.png`));
      if (theme === LIGHT) await take(page, join(MEDIA, 'rank-next-skill.png'));
    });
  }
  await inEditor(LIGHT, async (page) => {
    await showRoute(page, 261);
    await runCommand(page, 'Show or Focus Hover');
    await page.locator('.monaco-hover:visible').filter({ hasText: 'Break-even' }).waitFor();
    await take(page, join(OUTPUT, 'hover.png'));
    await page.keyboard.press('Escape');

    await openFile(page, 'lanternfall.week.yaml');
    await goTo(page, 18, 100);
    await page.keyboard.type('\nla');
    await page.keyboard.press('Control+Space');
    await page.locator('.suggest-widget.visible .monaco-list-row').filter({ hasText: 'lamp-hop' }).waitFor();
    await take(page, join(OUTPUT, 'completion.png'));
  });
  await inEditor(
    LIGHT,
    async (page) => {
      await openFile(page, 'planted.route.yaml');
      await page.locator('.squiggly-error').first().waitFor();
      await runCommand(page, 'View: Toggle Problems');
      await page.locator('.markers-panel .monaco-list-row').first().waitFor();
      await take(page, join(OUTPUT, 'problems.png'));
    },
    plantedFiles(),
  );
}

try {
  await main();
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}
