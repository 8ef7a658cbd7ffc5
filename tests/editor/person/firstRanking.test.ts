import assert from 'node:assert/strict';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Page } from 'playwright-core';
import { activeTab, openWorkbench, pickInput, pickRows, type Workbench } from '../host/workbench.ts';
import { pastedNames, pastedSegments, pastedTechniques } from '../../helpers/pastedTables.ts';
import { messages, ROOT } from './sample.ts';

const LIMIT_MS = 120_000;
/** The most that a first ranking may ask of a person. */
const MOST_ACTIONS = 12;

/** Does what a person does, and counts it. A keystroke with its modifiers, a pick and a confirmed field are one each. */
class Person {
  readonly page: Page;
  readonly done: string[] = [];

  constructor(page: Page) {
    this.page = page;
  }

  /** Copies a table. It is done in the spreadsheet and takes part in every way to a ranking, so it counts nothing. */
  async copies(table: string): Promise<void> {
    await this.page.evaluate(`navigator.clipboard.writeText(${JSON.stringify(table)})`);
  }

  /** Opens the palette: one keystroke; then writes some letters of a command, and confirms it: one more. */
  async runs(letters: string, title: string): Promise<void> {
    this.done.push('F1');
    await this.page.keyboard.press('F1');
    await pickInput(this.page).waitFor({ timeout: LIMIT_MS });
    await this.page.keyboard.type(letters);
    await pickRows(this.page).first().filter({ hasText: title }).waitFor({ timeout: LIMIT_MS });
    await this.confirms(`${title}`);
  }

  /** Confirms what is chosen or written. */
  async confirms(what: string): Promise<void> {
    this.done.push(`Enter: ${what}`);
    await this.page.keyboard.press('Enter');
  }
}

describe('from an empty folder to the first ranking', () => {
  let folder: string;
  let workbench: Workbench;
  let page: Page;
  before(async () => {
    folder = await mkdtemp(join(tmpdir(), 'editor-ranking-'));
    workbench = await openWorkbench({ extensionPath: ROOT, workspace: folder, isEmpty: true });
    page = workbench.page;
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  });
  after(async () => {
    await workbench.close();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  });

  it(`takes at most ${MOST_ACTIONS} actions with 12 segments and 10 techniques from the clipboard`, async () => {
    assert.deepEqual(await readdir(folder), []);
    const person = new Person(page);
    const began = Date.now();
    await person.copies(pastedSegments);
    await person.runs('paste a table', 'Routewright: Paste a Table…');
    await pickRows(page)
      .filter({ hasText: /^Paste into a new route/ })
      .first()
      .waitFor({ timeout: LIMIT_MS });
    await person.confirms('12 segments into a new route');
    await page
      .locator('.quick-input-title')
      .filter({ hasText: 'Create a Route' })
      .waitFor({ timeout: LIMIT_MS });
    await page.keyboard.type('Lanternfall');
    await person.confirms('the name of the game');
    await activeTab(page).filter({ hasText: 'lanternfall.route.yaml' }).waitFor({ timeout: LIMIT_MS });
    await person.copies(pastedTechniques);
    await person.runs('paste a table', 'Routewright: Paste a Table…');
    await pickRows(page)
      .filter({ hasText: /^Paste into lanternfall/ })
      .first()
      .waitFor({ timeout: LIMIT_MS });
    await person.confirms('10 techniques into the route');
    await messages(page).filter({ hasText: '10 techniques' }).waitFor({ timeout: LIMIT_MS });
    person.done.push('Ctrl+K N');
    await page.keyboard.press('Control+K');
    await page.keyboard.press('N');
    const ranked = pickRows(page).filter({ hasText: 's per hour' });
    await ranked.first().waitFor({ timeout: LIMIT_MS });
    const seconds = ((Date.now() - began) / 1000).toFixed(0);
    process.stdout.write(
      `      ${person.done.length} actions, ${seconds} s on this machine: ${person.done.join(' · ')}\n`,
    );
    assert.ok(person.done.length <= MOST_ACTIONS, person.done.join(', '));
    const shown = await ranked.allInnerTexts();
    assert.ok(shown.length >= 5, shown.join('\n'));
    for (const row of shown)
      assert.ok(
        pastedNames.some((name) => row.startsWith(name)),
        row,
      );
    const text = await readFile(join(folder, 'lanternfall.route.yaml'), 'utf8');
    assert.equal(text.match(/^ {2}- id: /gm)?.length, 12);
  });
});
