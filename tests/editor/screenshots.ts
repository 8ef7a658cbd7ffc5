/**
 * Takes pictures of the extension in the editor: `npx tsx tests/editor/screenshots.ts`, after a build.
 *
 * client/media/rank-next-skill.png is the one that the README shows. The others, in tests/output/, are for inspection:
 * the same list in every kind of theme, and hover, completion and problems in the light theme.
 */
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describeFailure, HostProblem } from './host/problem.ts';
import { goTo, openFile, pickRows, runCommand, screenshot } from './host/workbench.ts';
import { messages, openSample, ROOT, statusItem } from './person/sample.ts';
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
/** Switches off what would change from one picture to the next, or distract from the files. */
const SETTINGS = {
  'editor.cursorBlinking': 'solid',
  'editor.minimap.enabled': false,
  'window.commandCenter': false,
  'workbench.layoutControl.enabled': false,
};

/** Opens the sample in one theme, runs a function that takes pictures, and closes it. */
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

/** Opens a file of the sample and moves the cursor to the end of the line that begins with some words. */
async function showAt(page: Page, name: string, words: string): Promise<void> {
  const lines = (await readFile(join(ROOT, 'samples', name), 'utf8')).split('\n');
  const line = lines.findIndex((text) => text.startsWith(words));
  if (line < 0) throw new HostProblem(`No line of ${name} begins with "${words}".`);
  await openFile(page, name);
  await statusItem(page).waitFor();
  await goTo(page, line + 1, words.length + 1);
}

/** Takes a picture after temporary messages have disappeared; the mouse pointer is where nothing reacts to it. */
async function take(page: Page, file: string): Promise<void> {
  await messages(page).waitFor({ state: 'hidden' });
  await page.mouse.move(VIEWPORT.width - 2, VIEWPORT.height / 2);
  await page.locator('.workbench-hover:visible').waitFor({ state: 'hidden' });
  await screenshot(page, file);
  process.stdout.write(`${file}\n`);
}

/**
 * Takes a picture of the list with the whole text of its sixth row, which the editor shows when the mouse points at
 * the row.
 */
async function takePointedAt(page: Page, file: string): Promise<void> {
  await messages(page).waitFor({ state: 'hidden' });
  await pickRows(page).nth(5).hover();
  await page.locator('.workbench-hover:visible').filter({ hasText: 'break-even' }).waitFor();
  await screenshot(page, file);
  process.stdout.write(`${file}\n`);
}

async function ranking(page: Page): Promise<void> {
  await showAt(page, 'lanternfall.route.yaml', '  lamp-clip');
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
      if (theme === LIGHT) await takePointedAt(page, join(MEDIA, 'rank-next-skill.png'));
    });
  }
  await inEditor(LIGHT, async (page) => {
    await showAt(page, 'lanternfall.route.yaml', '  chimney-kick');
    // The numbers between the lines move the text when they arrive, and a hover that is open then disappears.
    await page.locator('.codelens-decoration').filter({ hasText: 'in the ranking' }).first().waitFor();
    await runCommand(page, 'Show or Focus Hover');
    await page.locator('.monaco-hover:visible').filter({ hasText: 'Break-even' }).waitFor();
    await take(page, join(OUTPUT, 'hover.png'));
    await page.keyboard.press('Escape');

    await showAt(page, 'lanternfall.week.yaml', '  oil-slick: learning');
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
