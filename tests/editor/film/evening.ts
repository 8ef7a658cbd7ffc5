import { openFile } from '../host/workbench.ts';
import { chooseView, openPanel, panelFrame, settled } from '../person/panelFrame.ts';
import { openPractice, practiceFrame, pressTape, takesKeys } from '../person/practiceFrame.ts';
import { openRunPage } from '../person/runFrame.ts';
import type { PictureTheme } from '../pictures.ts';
import { Film, LIMIT_MS, look, type Size } from './film.ts';

/** The times of a run that missed in the fourth segment. */
const TIMES = ['1:24.6', '1:58', '2:41', '1:55'];

const WEEK =
  'route: lanternfall.route.yaml\ntarget: "41:30"\n' +
  'days: { mon: 100, tue: 100, wed: 100, thu: 100, fri: 100, sat: 100, sun: 100 }\nblock: 25\n';

/** An evening of practice and a run. */
export async function evening(theme: PictureTheme, size: Size): Promise<Film> {
  const sample = await openPractice({
    ...look(theme, size),
    // Whatever the day, there is an evening to practise on.
    files: { 'lanternfall.week.yaml': WEEK },
  });
  const { page } = sample;
  const film = new Film(page, `evening-${theme}-${size}`);
  try {
    await openFile(page, 'lanternfall.route.yaml');
    const panel = await openPanel(page);
    await settled(panel);
    await film.take('tonight', panel);
    await panel
      .getByRole('button', { name: /^Start a block of / })
      .first()
      .click();
    let block = await practiceFrame(page);
    await takesKeys(block);
    await film.take('block', block);
    await pressTape(page, block, 'mlmllm');
    await film.take('counted', block);
    await block.locator('#do-end').click();
    await block.locator('#practice[data-phase="rest"]').waitFor({ timeout: LIMIT_MS });
    await block
      .locator('#next-text')
      .filter({ hasText: /\S/, hasNotText: 'Looking up' })
      .waitFor({ timeout: LIMIT_MS });
    await film.take('rest', block);
    if (await block.locator('#next').isVisible()) {
      await block.locator('#next').click();
      await block.locator('#practice[data-phase="block"]').waitFor({ timeout: LIMIT_MS });
      block = await practiceFrame(page);
      await pressTape(page, block, 'lm');
      await film.take('next', block);
      await block.locator('#do-end').click();
      await block.locator('#practice[data-phase="rest"]').waitFor({ timeout: LIMIT_MS });
    }
    await openFile(page, 'lanternfall.route.yaml');
    const run = await openRunPage(page);
    for (const [at, time] of TIMES.entries()) await run.locator(`#time-${at}`).fill(time);
    await run.locator('#outcome').selectOption('reset');
    await run.locator('#ended-at').selectOption('chandlers-row');
    await film.take('run', run);
    await run.locator('#save').click();
    const after = await panelFrame(page);
    await after.locator('#view').getByText('The run ended in Chandlers').waitFor({ timeout: LIMIT_MS });
    await settled(after);
    await film.take('after-the-run', after);
    await chooseView(after, 'Review');
    await film.take('review', after);
    return film;
  } finally {
    await sample.close();
  }
}
