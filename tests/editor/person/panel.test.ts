import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Frame } from 'playwright-core';
import {
  activeTab,
  answer,
  goTo,
  openFile,
  pickInput,
  runCommand,
  until,
  waitForKeyboard,
} from '../host/workbench.ts';
import { printedRanking, type PrintedRanking } from '../suite/support/commandLine.ts';
import { chooseView, openPanel, panelFrame, settled } from './panelFrame.ts';
import { openSample, ROOT, type OpenSample } from './sample.ts';

const WAIT = 120_000;

describe('Preview Week, in the editor', () => {
  let sample: OpenSample;
  let printed: PrintedRanking;
  let frame: Frame;
  const route = (): string => join(sample.folder, 'lanternfall.route.yaml');

  before(async () => {
    sample = await openSample({ files: { 'second.route.yaml': 'game: Lanternfall\ncategory: new route\n' } });
    printed = await printedRanking(ROOT, route());
  });
  after(() => sample.close());

  it('opens beside the file with the week, today marked', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    frame = await openPanel(page);
    await settled(frame);
    assert.match(await frame.locator('h1').innerText(), /Lanternfall,? any%/);
    assert.equal(await frame.locator('.week-days .is-today').count(), 1);
    assert.equal(await frame.locator('.week-days .day').count(), 7);
    assert.equal(await page.locator('.editor-group-container').count(), 2);
  });

  it('switches to the other views, with the ranking of the command line', async () => {
    await chooseView(frame, 'Ranking');
    const rows = await frame.locator('.ranked').count();
    assert.equal(rows, printed.rows.length);
    const all = await frame.locator('.ranked').all();
    const keys = await Promise.all(all.map((row) => row.getAttribute('data-key')));
    assert.deepEqual(
      keys,
      printed.rows.map(({ technique }) => technique),
    );
    await chooseView(frame, 'Curve');
    // The first of the ranking has no logs, so only its forecast is a line.
    await frame.locator('figure .chart .run-ahead').last().waitFor();
    await chooseView(frame, 'Odds');
    await frame.locator('.final-times .bar').first().waitFor();
  });

  it('shows the odds and the review that their commands ask for, named on its tab', async () => {
    const { page } = sample;
    await runCommand(page, 'Routewright: Show Run Odds');
    await page.locator('.tab').filter({ hasText: 'Odds: Lanternfall' }).waitFor({ timeout: WAIT });
    await frame.locator('.final-times .target-label').waitFor({ timeout: WAIT });
    await frame.locator('.chances tr').filter({ hasText: '41:30, the target' }).waitFor({ timeout: WAIT });
    await runCommand(page, 'Routewright: Review Practice');
    await page.locator('.tab').filter({ hasText: 'Review: Lanternfall' }).waitFor({ timeout: WAIT });
    await frame.locator('.reviewed-row.slipped').filter({ hasText: 'Net climb: slipped' }).waitFor();
    await frame.locator('.review-parts h2').filter({ hasText: 'To work on again' }).waitFor();
    assert.equal(await page.locator('.editor-group-container').count(), 2);
  });

  it('ranks by the chance of beating the target where that is chosen', async () => {
    const list = frame.getByRole('combobox', { name: 'Ranked by' });
    await chooseView(frame, 'Ranking');
    await list.selectOption({ label: 'chance of beating 41:30' });
    await frame
      .getByText(/^Ranked by the chance of beating 41:30 in an hour of runs, \d+ % now\.$/)
      .waitFor();
    assert.match(await frame.locator('.range-text').first().innerText(), /points per hour$/);
    await list.selectOption({ label: 'expected time of a run' });
    await frame
      .locator('.range-text')
      .filter({ hasText: / s per hour$/ })
      .first()
      .waitFor();
  });

  it('pins a technique by an edit of the week file that undo takes back', async () => {
    const { page, folder } = sample;
    await chooseView(frame, 'Ranking');
    const technique = printed.rows[1]?.technique ?? '';
    const week = join(folder, 'lanternfall.week.yaml');
    const saved = await readFile(week, 'utf8');
    const row = frame.locator(`.ranked[data-key="${technique}"]`);
    await row.locator('.opener').click();
    await row.getByRole('button', { name: /^Pin / }).click();
    await row.getByRole('button', { name: /^Unpin / }).waitFor({ timeout: WAIT });
    await frame.getByRole('status').filter({ hasText: 'is pinned in lanternfall.week.yaml' }).waitFor();
    // The edit is shown and not saved, and the keyboard focus does not move.
    const line = page.locator('.view-line').filter({ hasText: new RegExp(`pin:.*${technique}`) });
    await line.waitFor();
    assert.equal(await readFile(week, 'utf8'), saved);
    assert.equal(await frame.evaluate('document.hasFocus()'), true);

    await page.locator('.tab').filter({ hasText: 'lanternfall.week.yaml' }).click();
    await waitForKeyboard(page, 'lanternfall.week.yaml');
    await page.keyboard.press('Control+Z');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    await line.waitFor({ state: 'detached' });
    await row.getByRole('button', { name: /^Pin / }).waitFor({ timeout: WAIT });
  });

  it('puts the view on the clipboard as Markdown, with the numbers that it shows', async () => {
    const { page } = sample;
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await frame.getByRole('button', { name: 'Copy as Markdown' }).click();
    await frame.getByRole('status').filter({ hasText: 'Copied as Markdown.' }).waitFor({ timeout: WAIT });
    const text = await page.evaluate<string>('navigator.clipboard.readText()');
    assert.match(text, /^# Lanternfall,? any%, as of \d{4}-\d\d-\d\d$/m);
    const rows = text.split('\n').filter((line) => /^\| \d+ \|/.test(line));
    assert.equal(rows.length, printed.rows.length);
    const first = await frame.locator('.ranked .opener').first().innerText();
    const gain = /[\d.]+ to [\d.]+ s per hour/.exec(await frame.locator('.ranked').first().innerText())?.[0];
    assert.ok(gain !== undefined && first.includes(rows[0]?.split(' | ')[1] ?? '-'), first);
    assert.ok(rows[0]?.includes(gain), `${rows[0] ?? ''} has ${gain}`);
  });

  it('saves a chart as a drawing of its own, where the dialog says', async () => {
    const { page, folder } = sample;
    await chooseView(frame, 'Odds');
    await frame
      .getByRole('button', { name: /^Save SVG: / })
      .first()
      .click();
    await pickInput(page).waitFor({ timeout: WAIT });
    // The dialog fills in its folder first and the name a moment later.
    const proposed = join(folder, 'final-times.svg');
    await until(page, async () => (await pickInput(page).inputValue()) === proposed, WAIT);
    assert.equal(await pickInput(page).inputValue(), proposed);
    await answer(page);
    await frame
      .getByRole('status')
      .filter({ hasText: 'Saved in final-times.svg.' })
      .waitFor({ timeout: WAIT });
    const drawing = await readFile(join(folder, 'final-times.svg'), 'utf8');
    // Chromium loads the file as an image: it is complete and well-formed.
    const width = await page.evaluate<number>(
      `new Promise((resolve, reject) => {
        const image = new Image();
        image.onload = () => resolve(image.naturalWidth);
        image.onerror = () => reject(new Error('No image.'));
        image.src = 'data:image/svg+xml,' + encodeURIComponent(${JSON.stringify(drawing)});
      })`,
    );
    assert.ok(width >= 200, String(width));
    assert.doesNotMatch(drawing, /\sclass=|\sstyle=|var\(/);
    await chooseView(frame, 'Ranking');
  });

  it('saves the week as a calendar by keyboard, under the name of the route', async () => {
    const { page, folder } = sample;
    await chooseView(frame, 'Week');
    const button = frame.getByRole('button', { name: 'Save as a Calendar…' });
    await button.focus();
    await button.press('Enter');
    await pickInput(page).waitFor({ timeout: WAIT });
    const proposed = join(folder, 'lanternfall.ics');
    await until(page, async () => (await pickInput(page).inputValue()) === proposed, WAIT);
    assert.equal(await pickInput(page).inputValue(), proposed);
    await answer(page);
    const said = frame.getByRole('status').filter({ hasText: 'Saved in lanternfall.ics' });
    await said.waitFor({ timeout: WAIT });
    const calendar = await readFile(proposed, 'utf8');
    assert.match(calendar, /^BEGIN:VCALENDAR\r\n[^]*BEGIN:VEVENT[^]*END:VCALENDAR/);
    await chooseView(frame, 'Ranking');
  });

  it('says a moment after the plan how much more any plan could gain', async () => {
    await chooseView(frame, 'Week');
    const average = frame
      .locator('li')
      .filter({ hasText: 'no plan that keeps the rules can gain more than' });
    await average.waitFor({ timeout: WAIT });
    await chooseView(frame, 'Ranking');
  });

  it('follows the typing', async () => {
    const { page } = sample;
    const technique = printed.rows[0]?.technique ?? '';
    const lines = (await readFile(route(), 'utf8')).split('\n');
    const name = lines.findIndex((text) => text.startsWith(`  ${technique}:`)) + 1;
    // Opened beside the panel and not over it.
    await page.locator('.tab').filter({ hasText: 'lanternfall.week.yaml' }).click();
    await openFile(page, 'lanternfall.route.yaml');
    await goTo(page, name + 1, (lines[name]?.length ?? 0) + 1);
    await page.keyboard.type(' of the inner yard');
    const opener = frame.locator(`.ranked[data-key="${technique}"] .opener`);
    await opener.filter({ hasText: /of the inner yard$/ }).waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+Z');
    await opener.filter({ hasNotText: 'inner yard' }).waitFor({ timeout: WAIT });
  });

  it('keeps the last view while the text cannot be read, and leads to the line', async () => {
    const { page } = sample;
    const lines = (await readFile(route(), 'utf8')).split('\n');
    const techniques = lines.findIndex((text) => text.startsWith('techniques:'));
    await chooseView(frame, 'Ranking');
    const count = await frame.locator('.ranked').count();
    // In its own group, not over the panel.
    await page.locator('.tab').filter({ hasText: 'lanternfall.route.yaml' }).first().click();
    await waitForKeyboard(page, 'lanternfall.route.yaml');
    await goTo(page, techniques + 1, 1);
    await page.keyboard.type('"');
    const notice = frame
      .locator('.broken')
      .filter({ hasText: ' of lanternfall.route.yaml cannot be read: ' });
    await notice.waitFor({ timeout: WAIT });
    assert.equal(await frame.locator('.ranked').count(), count);
    await goTo(page, 1, 1);
    await notice.getByRole('button', { name: /^Go to line \d+$/ }).click();
    await waitForKeyboard(page, 'lanternfall.route.yaml');
    await page.keyboard.press('Control+Z');
    await notice.waitFor({ state: 'hidden', timeout: WAIT });
  });

  it('follows the route in front, and says what a new one wants', async () => {
    const { page } = sample;
    await openFile(page, 'second.route.yaml');
    await frame
      .locator('.message')
      .filter({ hasText: 'This route is still empty' })
      .waitFor({ timeout: WAIT });
    await openFile(page, 'lanternfall.route.yaml');
    await frame.locator('.ranked').first().waitFor({ timeout: WAIT });
  });

  it('comes back with the same view after the window is loaded again', async () => {
    const { page } = sample;
    await chooseView(frame, 'Odds');
    await Promise.all([page.waitForEvent('load'), runCommand(page, 'Developer: Reload Window')]);
    frame = await panelFrame(page);
    await settled(frame);
    assert.equal(await frame.getByRole('tab', { name: 'Odds' }).getAttribute('aria-selected'), 'true');
    await frame.locator('.final-times .bar').first().waitFor({ timeout: WAIT });
  });
});
