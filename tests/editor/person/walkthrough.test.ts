import assert from 'node:assert/strict';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
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
  until,
  type Workbench,
} from '../host/workbench.ts';
import { panelFrame } from './panelFrame.ts';
import { practiceFrame } from './practiceFrame.ts';
import { ROOT } from './sample.ts';
import { stepsDone } from './walkthroughPage.ts';

const LIMIT_MS = 120_000;
/** How often, and for how many milliseconds each, a list is opened that something else closes. */
const MOST_TRIES = 5;
const TRY_MS = 20_000;
/** The most that Tab has to be pressed to get from one end of the page to the other. */
const MOST_TABS = 80;

interface Step {
  readonly title: string;
  /** The button that does what the step asks for. */
  readonly button: string;
  /** Goes on from the button until the command has done its work. */
  readonly work: (page: Page) => Promise<void>;
}

/** The steps in their order, and how a person without a mouse does each. */
const steps: readonly Step[] = [
  {
    title: 'Write the route down',
    button: 'Create a Route',
    work: async (page) => {
      await pickInput(page).waitFor({ timeout: TRY_MS });
      assert.deepEqual(await stepsDone(page), []);
      await answer(page, 'Lanternfall');
      await activeTab(page).filter({ hasText: 'lanternfall.route.yaml' }).waitFor({ timeout: TRY_MS });
    },
  },
  {
    title: 'See what does not fit',
    button: 'Show Problems',
    work: (page) => page.locator('.markers-panel').waitFor({ timeout: TRY_MS }),
  },
  {
    title: 'Ask what to learn next',
    button: 'Rank Next Skill',
    work: async (page) => {
      await pickRows(page).filter({ hasText: 'Wall jump' }).first().waitFor({ timeout: TRY_MS });
      await pickInput(page).press('Escape');
    },
  },
  {
    title: 'Plan the week',
    button: 'Preview Week',
    work: async (page) => void (await panelFrame(page)),
  },
  {
    title: 'Practise a block and log it',
    button: 'Start Practice Block',
    work: async (page) => {
      await pickRows(page).filter({ hasText: 'Wall jump' }).first().waitFor({ timeout: TRY_MS });
      await pickInput(page).press('Enter');
      await practiceFrame(page);
    },
  },
];

/**
 * Chooses a row of the palette, or of the list that is open, by writing and Enter. What is still being drawn may take the
 * keyboard, which closes the list: a person then opens it again.
 */
async function choose(page: Page, open: () => Promise<void>, text: string, row: string): Promise<void> {
  for (let times = 0; times < MOST_TRIES; times += 1) {
    try {
      await open();
      await pickInput(page).fill(text, { timeout: TRY_MS });
      await pickRows(page).first().filter({ hasText: row }).waitFor({ timeout: TRY_MS });
      await pickInput(page).press('Enter', { timeout: TRY_MS });
      return;
    } catch (error) {
      if (times + 1 === MOST_TRIES) throw error;
    }
  }
}

/** Leads the keyboard to the page of the walkthrough: opens it from the palette, where it is not to be seen. */
async function openWalkthrough(page: Page): Promise<void> {
  if (await page.locator('.getting-started-step').first().isVisible()) {
    await page.keyboard.press('Control+1');
    return;
  }
  const palette = (): Promise<void> => page.keyboard.press('F1');
  await choose(
    page,
    async () => {
      await choose(page, palette, '>Welcome: Open Walkthrough', 'Open Walkthrough');
      await pickRows(page).filter({ hasText: 'Your first route' }).waitFor({ timeout: TRY_MS });
    },
    'Your first route',
    'Your first route',
  );
  await page.locator('.getting-started-step').first().waitFor({ timeout: LIMIT_MS });
}

/** Presses Tab until an element has the keyboard. @throws where Tab does not lead there */
async function tabTo(page: Page, element: Locator): Promise<void> {
  for (let times = 0; times < MOST_TABS; times += 1) {
    if ((await element.and(page.locator(':focus')).count()) > 0) return;
    await page.keyboard.press('Tab');
  }
  throw new Error('Tab does not lead there.');
}

describe('the walkthrough, by the keyboard alone, in an empty folder', () => {
  let folder: string;
  let workbench: Workbench;
  let page: Page;
  before(async () => {
    folder = await mkdtemp(join(tmpdir(), 'editor-walkthrough-'));
    workbench = await openWorkbench({ extensionPath: ROOT, workspace: folder, isEmpty: true });
    page = workbench.page;
    // Where a mouse is used after all, the test says so.
    await page.evaluate(`addEventListener('mousedown', () => { window.mouseUsed = true; }, true)`);
  });
  after(async () => {
    await workbench.close();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  });

  it('waits for what commands did, not for the commands', async () => {
    const { contributes } = JSON.parse(await readFile(join(ROOT, 'package.json'), 'utf8')) as {
      contributes: { walkthroughs: { steps: { id: string; completionEvents: string[] }[] }[] };
    };
    const declared = contributes.walkthroughs[0]!.steps.map(({ id, completionEvents }) => [
      id,
      completionEvents,
    ]);
    assert.deepEqual(declared, [
      ['write', ['onContext:routewright.done.write']],
      // The list of problems is the editor's own, and showing it is all that the step asks for.
      ['check', ['onCommand:workbench.actions.view.problems', 'onView:workbench.panel.markers.view']],
      ['rank', ['onContext:routewright.done.rank']],
      ['week', ['onContext:routewright.done.week']],
      ['practise', ['onContext:routewright.done.practise']],
    ]);
  });

  for (const [at, { title, button, work }] of steps.entries()) {
    it(`${title}: ${button}`, async () => {
      await openWalkthrough(page);
      const before = steps.slice(0, at).map((step) => step.title);
      await until(page, async () => (await stepsDone(page)).length >= before.length, LIMIT_MS);
      assert.deepEqual(await stepsDone(page), before);
      const step = page.locator('.getting-started-step').filter({ hasText: title });
      const wanted = step.getByRole('button', { name: button });
      if (!(await wanted.isVisible())) {
        await tabTo(page, step);
        await page.keyboard.press('Enter');
        await wanted.waitFor({ timeout: LIMIT_MS });
      }
      const press = async (): Promise<void> => {
        await page.keyboard.press('Control+1');
        await tabTo(page, wanted);
        await page.keyboard.press('Enter');
        await work(page);
      };
      // A button that is being drawn again hears nothing: a person presses it once more.
      await press().catch(press);
      await openWalkthrough(page);
      await until(page, async () => (await stepsDone(page)).length > at, LIMIT_MS);
      assert.deepEqual(await stepsDone(page), [...before, title]);
      assert.equal(await page.evaluate('window.mouseUsed === true'), false);
    });
  }
});
