import assert from 'node:assert/strict';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Locator, Page } from 'playwright-core';
import {
  activeTab,
  answer,
  openWorkbench,
  pickInput,
  pickRows,
  runCommand,
  waitForKeyboard,
  type Workbench,
} from '../host/workbench.ts';
import { lineWith, messages, ROOT, statusItem } from './sample.ts';
import { stepsDone } from './walkthroughPage.ts';

const LIMIT_MS = 120_000;

async function openWalkthrough(page: Page): Promise<Locator> {
  await runCommand(page, 'Welcome: Open Walkthrough...');
  await pickInput(page).fill('Your first route');
  await pickRows(page).filter({ hasText: 'Your first route' }).first().click();
  const steps = page.locator('.getting-started-step');
  await steps.first().waitFor({ timeout: LIMIT_MS });
  return steps;
}

/** Opens another file by the mouse: while a step is being drawn, the walkthrough takes the keyboard from the palette. */
async function leaveWalkthrough(page: Page): Promise<void> {
  await page
    .locator('.explorer-folders-view .monaco-list-row')
    .filter({ hasText: 'shopping.txt' })
    .dblclick({ timeout: LIMIT_MS });
  await waitForKeyboard(page, 'shopping.txt');
}

describe('the first start, in a folder without a route', () => {
  let folder: string;
  let workbench: Workbench;
  let page: Page;
  before(async () => {
    folder = await mkdtemp(join(tmpdir(), 'editor-first-'));
    await writeFile(join(folder, 'shopping.txt'), 'lamp oil, rope\n');
    workbench = await openWorkbench({ extensionPath: ROOT, workspace: folder });
    page = workbench.page;
  });
  after(async () => {
    await workbench.close();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  });

  it('is led by a walkthrough whose steps are there with their pictures', async () => {
    const steps = await openWalkthrough(page);
    assert.deepEqual(await steps.locator('.step-title').allInnerTexts(), [
      'Write the route down',
      'See what does not fit',
      'Ask what to learn next',
      'Plan the week',
      'Practise a block and log it',
    ]);
    await steps.last().click();
    await steps.last().filter({ hasText: 'see a clinician' }).waitFor();
    await steps.first().click();
    await steps.first().getByRole('button', { name: 'Create a Route' }).waitFor();
  });

  it('offers the ways to a first route where a command needs one, and no step is done by asking', async () => {
    await leaveWalkthrough(page);
    await runCommand(page, 'Routewright: Rank Next Skill');
    const message = messages(page).filter({
      hasText: 'A ranking needs a route. There is none in this folder',
    });
    for (const name of ['Create a Route', 'Paste a Table', 'Open the Sample', 'Open a Route File'])
      await message.getByRole('button', { name }).waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Escape');
    await message.waitFor({ state: 'hidden' });
    await openWalkthrough(page);
    assert.deepEqual(await stepsDone(page), []);
  });

  it('creates a route by the game’s name, with logs and a week, and nothing in it is wrong', async () => {
    await page
      .locator('.getting-started-step')
      .first()
      .getByRole('button', { name: 'Create a Route' })
      .click();
    await pickInput(page).waitFor({ timeout: LIMIT_MS });
    await answer(page);
    await page
      .locator('.quick-input-widget:visible .quick-input-message')
      .filter({ hasText: 'at least one letter' })
      .waitFor();
    await answer(page, 'Lantern "Spring" Tide');
    await activeTab(page)
      .filter({ hasText: 'lantern-spring-tide.route.yaml' })
      .waitFor({ timeout: LIMIT_MS });
    await statusItem(page).and(page.locator('[aria-label*="0 problems"]')).waitFor({ timeout: LIMIT_MS });
    const kinds = ['practice', 'route', 'runs', 'week'];
    assert.deepEqual((await readdir(folder)).sort(), [
      ...kinds.map((kind) => `lantern-spring-tide.${kind}.yaml`),
      'shopping.txt',
    ]);
    await runCommand(page, 'Routewright: Rank Next Skill');
    await pickRows(page).filter({ hasText: 'Wall jump' }).first().waitFor({ timeout: LIMIT_MS });
    await page.keyboard.press('Escape');
    await openWalkthrough(page);
    assert.deepEqual(await stepsDone(page), ['Write the route down', 'Ask what to learn next']);
    await leaveWalkthrough(page);
  });

  it('writes over nothing', async () => {
    const route = join(folder, 'lantern-spring-tide.route.yaml');
    await writeFile(route, 'game: Mine\ncategory: any%\n');
    await runCommand(page, 'Routewright: Create a Route…');
    await answer(page, 'lantern spring tide');
    await messages(page)
      .filter({ hasText: 'is there already and stays as it is' })
      .waitFor({ timeout: LIMIT_MS });
    await lineWith(page, 'game: Mine').waitFor();
    assert.equal(await readFile(route, 'utf8'), 'game: Mine\ncategory: any%\n');
  });

  it('opens the sample in a folder of its own', async () => {
    await runCommand(page, 'Routewright: Open the Sample');
    await activeTab(page).filter({ hasText: 'lanternfall.route.yaml' }).waitFor({ timeout: LIMIT_MS });
    for (const kind of ['practice', 'route', 'runs', 'week']) {
      const name = `lanternfall.${kind}.yaml`;
      const copy = await readFile(join(folder, 'lanternfall', name), 'utf8');
      assert.ok(copy === (await readFile(join(ROOT, 'samples', name), 'utf8')), name);
    }
    await statusItem(page)
      .filter({ hasText: /Lanternfall/ })
      .waitFor({ timeout: LIMIT_MS });
  });
});
