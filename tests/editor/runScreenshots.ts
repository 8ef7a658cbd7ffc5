/**
 * Takes pictures of the page of a run in the editor: `npx tsx tests/editor/runScreenshots.ts [THEME ...]`, after a build. They go to tests/output/run-THEME-SIZE-1-empty.png and so on.
 */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { describeFailure } from './host/problem.ts';
import { pictureSettings, pictureThemes, themesAsked, type PictureTheme } from './pictures.ts';
import { openFile, screenshot } from './host/workbench.ts';
import { openRunPage } from './person/runFrame.ts';
import { openPractice } from './person/practiceFrame.ts';
import { ROOT } from './person/sample.ts';

const OUTPUT = join(ROOT, 'tests', 'output');
/** Window sizes in which the page is about 600 and about 300 pixels wide. */
const SIZES = { wide: { width: 1500, height: 1000 }, narrow: { width: 960, height: 1000 } } as const;

async function takeAll(theme: PictureTheme, size: keyof typeof SIZES): Promise<void> {
  const viewport = SIZES[size];
  const sample = await openPractice({
    colorTheme: pictureThemes[theme],
    viewport,
    settings: pictureSettings,
  });
  const { page } = sample;
  const take = async (name: string): Promise<void> => {
    await page.mouse.move(viewport.width / 2, viewport.height - 4);
    const file = join(OUTPUT, `run-${theme}-${size}-${name}.png`);
    await screenshot(page, file);
    process.stdout.write(`${file}\n`);
  };
  try {
    await openFile(page, 'lanternfall.route.yaml');
    const frame = await openRunPage(page);
    await take('1-empty');
    for (const [at, time] of ['1:24.6', '1:58', '2.41', '1:55', 'soon'].entries())
      await frame.locator(`#time-${at}`).fill(time);
    await take('2-times');
    await frame.locator('#time-4').fill('2:20');
    await frame.locator('#outcome').selectOption('miss');
    await frame.locator('#ended-at').selectOption('tide-stairs');
    await frame.locator('#uses-title').scrollIntoViewIfNeeded();
    await take('3-techniques');
    await frame.locator('#kind-evening').check();
    await frame.locator('#runs').fill('38');
    await frame.locator('#endings summary').click();
    await take('4-evening');
  } finally {
    await sample.close();
  }
}

async function main(argv: readonly string[]): Promise<void> {
  await mkdir(OUTPUT, { recursive: true });
  const asked = themesAsked(argv);
  for (const theme of asked) {
    await takeAll(theme, 'wide');
    await takeAll(theme, 'narrow');
  }
}

try {
  await main(process.argv.slice(2));
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}
