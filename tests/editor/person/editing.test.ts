import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { after, before, describe, it } from 'mocha';
import type { Locator, Page } from 'playwright-core';
import { activeTab, goTo, openFile, pickInput, runCommand, until } from '../host/workbench.ts';
import { panelFrame } from './panelFrame.ts';
import { lineWith, openSample, statusItem, type OpenSample } from './sample.ts';

const kinds = ['route', 'practice', 'runs', 'week'] as const;
const nameOf = (kind: string): string => `lanternfall.${kind}.yaml`;

/** The saved texts of the sample's files. */
async function savedIn(folder: string): Promise<Record<string, string>> {
  const texts = kinds.map(
    async (kind) => [kind, await readFile(join(folder, nameOf(kind)), 'utf8')] as const,
  );
  return Object.fromEntries(await Promise.all(texts));
}

/** Moves the cursor into the first occurrence of some words, after the text `behind`, in the saved file. */
async function goInto(page: Page, text: string, words: string, by: number, behind = ''): Promise<void> {
  const at = text.indexOf(words, text.indexOf(behind)) + by;
  assert.ok(at >= by, `No "${words}" in the file.`);
  const lines = text.slice(0, at).split('\n');
  await goTo(page, lines.length, lines.at(-1)!.length + 1);
}

/** Saves every file and waits until none has a change. */
async function saveAll(page: Page): Promise<void> {
  await runCommand(page, 'File: Save All');
  await page.locator('.tab.dirty').first().waitFor({ state: 'detached' });
}

/** Presses and releases the mouse in the middle of an element that does not react to a click event. */
async function pressOn(page: Page, locator: Locator): Promise<void> {
  await locator.waitFor();
  const box = await locator.boundingBox();
  assert.ok(box);
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.up();
}

/** The methods of a line's element that are used here; these tests do not have the DOM's types. */
interface DrawnLine {
  readonly textContent: string | null;
  getBoundingClientRect(): { readonly top: number };
}

/** The drawn lines of the active editor, from top to bottom. */
async function drawn(page: Page): Promise<string[]> {
  const lines = page.locator('.editor-group-container.active .view-line');
  // All read in one call, since lines change their places while the editor scrolls.
  const placed = await lines.evaluateAll((all: readonly DrawnLine[]) =>
    all.map((line) => ({ top: line.getBoundingClientRect().top, text: line.textContent ?? '' })),
  );
  return placed.sort((a, b) => a.top - b.top).map(({ text }) => text.replaceAll('\u00a0', ' '));
}

describe('editing by hand', () => {
  let sample: OpenSample;
  let original: Record<string, string>;
  before(async () => {
    sample = await openSample();
    original = await savedIn(sample.folder);
  });
  after(() => sample.close());

  it('renames a technique in every file, and one undo brings all of them back', async () => {
    const { page, folder } = sample;
    for (const kind of kinds) assert.ok(original[kind]!.includes('lens-align'), kind);
    await openFile(page, nameOf('route'));
    await statusItem(page).waitFor();
    await goInto(page, original.route!, '  lens-align:', 5, '\ntechniques:');
    await page.keyboard.press('F2');
    const box = page.locator('.rename-box input:visible');
    await box.waitFor();
    assert.equal(await box.inputValue(), 'lens-align');
    await box.fill('lens-turn');
    await box.press('Enter');
    await lineWith(page, '  lens-turn:').waitFor();
    await saveAll(page);
    const renamed = await savedIn(folder);
    for (const kind of kinds) {
      const plain = renamed[kind]!.replace('was: [lens-align]', '');
      assert.ok(plain.includes('lens-turn') && !plain.includes('lens-align'), kind);
    }

    await page.keyboard.press('Control+Z');
    await lineWith(page, '  lens-turn:').waitFor({ state: 'detached' });
    // The other files change one after the other.
    for (const kind of kinds)
      await page.locator(`.tab.dirty[data-resource-name="${nameOf(kind)}"]`).waitFor();
    await saveAll(page);
    const after = await savedIn(folder);
    for (const kind of kinds) assert.ok(after[kind] === original[kind], `${kind} is not as it was.`);
  });

  it('takes a fix from the light bulb with the mouse', async () => {
    const { page, folder } = sample;
    await openFile(page, nameOf('week'));
    await goInto(page, original.week!, '  oil-slick: learning', '  oil-sli'.length);
    await page.keyboard.press('Delete');
    await page.locator('.editor-group-container.active .squiggly-error').first().waitFor();
    // Another bulb was shown before, for the actions on a line without a finding.
    await pressOn(page, page.locator('[class*="lightbulb-auto"]:visible').first());
    const menu = page.locator('.action-widget:visible');
    await menu.waitFor();
    const rows = await menu.locator('.monaco-list-row.action').allInnerTexts();
    assert.match(rows[0] ?? '', /Change to “oil-slick”/);
    assert.ok(
      rows.some((row) => /Define “oil-slik” in the route/.test(row)),
      rows.join('; '),
    );
    await pressOn(page, menu.locator('.monaco-list-row.action').first());
    await lineWith(page, 'oil-slick: learning').waitFor();
    await page
      .locator('.editor-group-container.active .squiggly-error')
      .first()
      .waitFor({ state: 'detached' });
    await saveAll(page);
    assert.equal((await savedIn(folder)).week, original.week);
  });

  it('suggests techniques by their use, with names and notes, and takes one with Enter', async () => {
    const { page } = sample;
    await openFile(page, nameOf('week'));
    await goInto(page, original.week!, '  oil-slick: learning', '  oil-slick: learning'.length);
    await page.keyboard.type('\nla');
    await page.keyboard.press('Control+Space');
    const widget = page.locator('.suggest-widget.visible');
    const rows = widget.locator('.monaco-list-row');
    await rows.filter({ hasText: 'lamp-hop' }).waitFor();
    const shown = (await rows.allInnerTexts()).map((row) => row.replaceAll(/\s+/g, ' ').trim());
    // Names that the list has already are not offered. Of the names that match, the one tried last comes first.
    assert.ok(
      shown.every((row) => !row.startsWith('lamp-clip')),
      shown.join('; '),
    );
    assert.match(shown[0] ?? '', /^lamp-hop/);
    const details = page.locator('.suggest-details:visible, .suggest-details-container:visible').first();
    const note = details.filter({ hasText: 'Difficulty 2 of 10' });
    // The key shows and hides the details: the first press did so if the list had come by typing.
    await until(page, async () => {
      if (await note.isVisible()) return true;
      await page.keyboard.press('Control+Space');
      await page.waitForTimeout(1000);
      return note.isVisible();
    });
    await note.waitFor();
    await page.keyboard.press('Enter');
    await lineWith(page, '  lamp-hop: ').waitFor();
    // The values of the new key: the states, each with its description.
    await page.keyboard.press('Control+Space');
    await rows.filter({ hasText: 'in-run' }).waitFor();
    const states = (await rows.allInnerTexts()).map((row) => row.replaceAll(/\s+/g, ' ').trim());
    assert.deepEqual(states, ['unlearned not begun', 'learning in practice', 'in-run tried in runs']);
    await page.keyboard.type('in');
    await page.keyboard.press('Enter');
    await lineWith(page, '  lamp-hop: in-run').waitFor();
  });

  it('fills in a new technique with the indentation of its place', async () => {
    const { page } = sample;
    await openFile(page, nameOf('route'));
    await page.keyboard.press('Control+End');
    await page.keyboard.type('  new');
    await page.keyboard.press('Control+Space');
    await page
      .locator('.suggest-widget.visible .monaco-list-row')
      .filter({ hasText: 'new technique' })
      .first()
      .waitFor();
    await page.keyboard.press('Enter');
    await page.keyboard.type('salt-hop');
    await page.keyboard.press('Tab');
    await page.keyboard.type('Salt hop');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+End');
    await lineWith(page, 'loses: 1').last().waitFor();
    const expected = [
      '  salt-hop:',
      '    name: Salt hop',
      '    difficulty: 5',
      '    saves: 1',
      '    loses: 1',
    ];
    const written = async (): Promise<readonly string[]> => {
      const lines = await drawn(page);
      const first = lines.findIndex((line) => line.startsWith('  salt-hop:'));
      // Hints may already be drawn after the text.
      return lines.slice(first, first + expected.length).map((line, i) => line.slice(0, expected[i]?.length));
    };
    // The editor draws several times before the lines are final.
    await until(page, async () => isDeepStrictEqual(await written(), expected));
    assert.deepEqual(await written(), expected);
    await activeTab(page).and(page.locator('.dirty')).waitFor();
  });

  it('opens the curve of a technique by a click on its lens', async () => {
    const { page } = sample;
    await openFile(page, nameOf('route'));
    await goInto(page, original.route!, '  blind-line:', 3, '\ntechniques:');
    await page
      .locator('.editor-group-container.active .codelens-decoration a:visible')
      .filter({ hasText: /no\. 1 (to learn next|in the ranking)/i })
      .click();
    const frame = await panelFrame(page);
    await frame.locator('[role="tab"][aria-selected="true"]').filter({ hasText: 'Curve' }).waitFor();
    await frame.locator('figure .chart .run-ahead').last().waitFor({ timeout: 120_000 });
    assert.match(await frame.locator('#view').innerText(), /Landing rate of Blind line over time/);

    // When the route is open, the code lens of a segment shows the odds in the panel.
    await openFile(page, nameOf('route'));
    await goInto(page, original.route!, '- id: net-lofts', 3);
    const lens = page
      .locator('.codelens-decoration a:visible')
      .filter({ hasText: /^Expected .* with Net climb/ });
    const odds = frame.locator('[role="tab"][aria-selected="true"]').filter({ hasText: 'Odds' });
    // The editor exchanges the lenses when new numbers come, and does not know the command of one clicked in between.
    for (let click = 0; click < 4 && (await odds.count()) === 0; click++) {
      await lens.click();
      await odds.waitFor({ timeout: 5000 }).catch(() => undefined);
    }
    await odds.waitFor();
  });
});

describe('a keyboard alone', () => {
  it('is enough for the ranking', async () => {
    const sample = await openSample();
    try {
      const { page } = sample;
      await openFile(page, nameOf('week'));
      await statusItem(page).waitFor();
      await page.keyboard.press('Control+K');
      await page.keyboard.press('n');
      await pickInput(page)
        .and(page.locator('[placeholder*="hour of practice"]'))
        .waitFor({ timeout: 120_000 });
    } finally {
      await sample.close();
    }
  });
});
