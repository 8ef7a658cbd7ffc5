import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { pastedSegments, pastedTechniques } from '../../helpers/pastedTables.ts';
import { activeTab, openWorkbench, pickInput, pickRows, runCommand } from '../host/workbench.ts';
import { openPanel, settled } from '../person/panelFrame.ts';
import { messages, ROOT } from '../person/sample.ts';
import type { PictureTheme } from '../pictures.ts';
import { Film, LIMIT_MS, look, type Size } from './film.ts';

/** From an empty folder to the first answer of one's own. */
export async function first(theme: PictureTheme, size: Size): Promise<Film> {
  const folder = await mkdtemp(join(tmpdir(), 'editor-film-'));
  const workbench = await openWorkbench({
    extensionPath: ROOT,
    workspace: folder,
    isEmpty: true,
    ...look(theme, size),
  });
  const { page } = workbench;
  const film = new Film(page, `first-${theme}-${size}`);
  try {
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await page.locator('.activitybar [aria-label^="Routewright"]').first().click();
    await page
      .locator('.welcome-view-content')
      .filter({ hasText: 'no route here yet' })
      .waitFor({ timeout: LIMIT_MS });
    await film.take('nothing-yet');
    await paste(page, film, pastedSegments, 'segments');
    await pickInput(page).fill('Lanternfall');
    await film.take('name');
    await pickInput(page).press('Enter');
    await activeTab(page).filter({ hasText: 'lanternfall.route.yaml' }).waitFor({ timeout: LIMIT_MS });
    await film.take('route');
    await paste(page, film, pastedTechniques, 'techniques');
    await messages(page).filter({ hasText: '10 techniques' }).waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Control+End');
    const lenses = page.locator('.codelens-decoration');
    await lenses.last().waitFor({ timeout: LIMIT_MS });
    await film.take('techniques-pasted');
    await runCommand(page, 'Routewright: Rank Next Skill');
    await pickRows(page).filter({ hasText: 's per hour' }).first().waitFor({ timeout: LIMIT_MS });
    await film.take('ranking');
    await page.keyboard.press('Escape');
    const frame = await openPanel(page);
    await settled(frame);
    await film.take('week', frame);
    return film;
  } finally {
    await workbench.close();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

async function paste(page: Page, film: Film, table: string, what: string): Promise<void> {
  await page.evaluate(`navigator.clipboard.writeText(${JSON.stringify(table)})`);
  await runCommand(page, 'Routewright: Paste a Table…');
  await pickRows(page)
    .filter({ hasText: /^Paste into/ })
    .first()
    .waitFor({ timeout: LIMIT_MS });
  await film.take(`paste-${what}`);
  await page.keyboard.press('Enter');
}
