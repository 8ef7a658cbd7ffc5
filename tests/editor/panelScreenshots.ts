/**
 * Takes pictures of the panel in the editor: `npx tsx tests/editor/panelScreenshots.ts`, after a build.
 *
 * Every view in each kind of theme, wide and narrow, is saved in tests/output/ for inspection.
 * The week and a curve are saved in client/media/ for the README.
 */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { describeFailure } from './host/problem.ts';
import { pictureSettings, pictureThemes, themesAsked, type PictureTheme } from './pictures.ts';
import { openFile, screenshot } from './host/workbench.ts';
import { chooseView, openPanel, settled } from './person/panelFrame.ts';
import { openSample, ROOT } from './person/sample.ts';

const OUTPUT = join(ROOT, 'tests', 'output');
const MEDIA = join(ROOT, 'client', 'media');
/** Window sizes in which the panel is about 600 and about 300 pixels wide. */
const SIZES = { wide: { width: 1500, height: 1000 }, narrow: { width: 960, height: 1000 } } as const;
const VIEWS = ['Week', 'Ranking', 'Curve', 'Odds', 'Review', 'Progress', 'After a run', 'Compare'] as const;

async function takeAll(theme: PictureTheme, size: keyof typeof SIZES): Promise<void> {
  const viewport = SIZES[size];
  const sample = await openSample({ colorTheme: pictureThemes[theme], viewport, settings: pictureSettings });
  const { page } = sample;
  try {
    await openFile(page, 'lanternfall.route.yaml');
    const frame = await openPanel(page);
    await settled(frame);
    for (const view of VIEWS) {
      await chooseView(frame, view);
      if (view === 'Week') await frame.locator('.note').filter({ hasText: 'can gain more than' }).waitFor();
      if (view === 'Ranking') await frame.locator('.opener').first().click();
      await page.mouse.move(viewport.width / 2, viewport.height - 4);
      const name = view.toLowerCase().replaceAll(' ', '-');
      const files = [join(OUTPUT, `panel-${name}-${theme}-${size}.png`)];
      if (theme === 'light' && size === 'wide' && (view === 'Week' || view === 'Curve')) {
        files.push(join(MEDIA, `panel-${name}.png`));
      }
      for (const file of files) {
        await screenshot(page, file);
        process.stdout.write(`${file}\n`);
      }
      if (view === 'Ranking') await frame.locator('.opener').first().click();
    }
  } finally {
    await sample.close();
  }
}

async function main(): Promise<void> {
  await mkdir(OUTPUT, { recursive: true });
  await mkdir(MEDIA, { recursive: true });
  for (const theme of themesAsked([])) {
    for (const size of Object.keys(SIZES) as (keyof typeof SIZES)[]) await takeAll(theme, size);
  }
}

try {
  await main();
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}
