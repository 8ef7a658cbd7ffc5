import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import { activeTab, answer, openFile, pickRows, runCommand, waitForKeyboard } from '../host/workbench.ts';
import { techniqueRows } from '../host/rankedRows.ts';
import { printedRanking, TODAY, type PrintedRanking } from '../suite/support/commandLine.ts';
import { lineWith, messages, openSample, ROOT, type OpenSample } from './sample.ts';

const COMMAND = 'Routewright: Rank Next Skill';

describe('Rank Next Skill, run from the palette', () => {
  let sample: OpenSample;
  let printed: PrintedRanking;
  /** The names of the techniques, read from the text of the route. */
  const names = new Map<string, string>();

  before(async () => {
    sample = await openSample({ files: { 'shopping.txt': 'lamp oil, rope\n' } });
    const route = join(sample.folder, 'lanternfall.route.yaml');
    printed = await printedRanking(ROOT, route);
    for (const [, id = '', name = ''] of (await readFile(route, 'utf8')).matchAll(
      /^ {2}([a-z-]+):\n {4}name: (.+)$/gm,
    )) {
      names.set(id, name);
    }
  });
  after(() => sample.close());

  const rows = async (): Promise<string[]> => {
    // The palette's own rows may still be visible for a moment.
    await pickRows(sample.page).filter({ hasText: 'per hour' }).first().waitFor();
    return pickRows(sample.page).allInnerTexts();
  };

  it('ranks the only route of the folder where no file of it is open', async () => {
    const { page } = sample;
    await openFile(page, 'shopping.txt');
    await runCommand(page, COMMAND);
    const shown = await rows();
    assert.ok(shown[0]?.startsWith(names.get(printed.rows[0]?.technique ?? '') ?? '?'), shown[0]);
    await page.keyboard.press('Escape');
    await pickRows(page).first().waitFor({ state: 'hidden' });
  });

  it('lists what the command line prints, in its order and with its numbers', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    await runCommand(page, COMMAND);
    const shown = await rows();
    const [first] = printed.rows;
    assert.ok(first);
    // The editor draws only the rows for which the list has room.
    for (const [index, row] of techniqueRows(shown).slice(0, printed.rows.length).entries()) {
      const technique = printed.rows[index]?.technique ?? '';
      assert.ok(row.startsWith(names.get(technique) ?? technique), `Row ${index + 1}: ${row}`);
    }
    const percent = (rate: number): string => `${(100 * rate).toFixed(0)} %`;
    const now = percent(first.runNow.mean);
    const then = percent(first.runThen.mean);
    const text = (shown[0] ?? '').replaceAll('\u00a0', ' ');
    assert.ok(text.includes(`${now} → ${then}`), text);
    assert.ok(text.includes(`in ${first.blocks} block`), text);
    assert.match(text, /[\d.]+ s per hour \(\S+ to \S+ s\)/);
    const [, gain = '', decimals = ''] = /([\d]+(?:\.(\d+))?) s per hour/.exec(text) ?? [];
    assert.equal(gain, first.gainPerHour.toFixed(decimals.length));
    await page.locator('.quick-input-title').filter({ hasText: TODAY }).waitFor();
  });

  it('opens what is chosen, and sets it to learning by an edit that undo takes back', async () => {
    const { page, folder } = sample;
    // What is practised already is only opened; the first technique that is not is offered to be taken up.
    const inSet = new Set(
      printed.standings
        .filter(({ standing }) => standing === 'again' || standing === 'learning')
        .map(({ technique: id }) => id),
    );
    const index = printed.rows.findIndex(({ technique: id }) => !inSet.has(id));
    const technique = printed.rows[index]?.technique ?? '';
    const week = join(folder, 'lanternfall.week.yaml');
    const saved = await readFile(week, 'utf8');
    for (let step = 0; step < index; step++) await page.keyboard.press('ArrowDown');
    await answer(page);
    await activeTab(page).filter({ hasText: 'lanternfall.route.yaml' }).waitFor();
    await lineWith(page, `${technique}:`).waitFor();

    const message = messages(page).filter({ hasText: names.get(technique) ?? technique });
    await message.getByRole('button', { name: 'Take Up' }).click();
    const tab = activeTab(page).filter({ hasText: 'lanternfall.week.yaml' });
    await tab.and(page.locator('.dirty')).waitFor();
    await lineWith(page, `${technique}: learning`).waitFor();
    assert.equal(await readFile(week, 'utf8'), saved);

    await waitForKeyboard(page, 'lanternfall.week.yaml');
    await page.keyboard.press('Control+Z');
    await tab.and(page.locator(':not(.dirty)')).waitFor();
    await lineWith(page, `${technique}: learning`).waitFor({ state: 'detached' });
  });

  it('shows the same from a log', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.runs.yaml');
    await runCommand(page, COMMAND);
    const [first = ''] = await rows();
    const technique = printed.rows[0]?.technique ?? '';
    assert.ok(first.startsWith(names.get(technique) ?? technique), first);
    await page.keyboard.press('Escape');
    await page.locator('.quick-input-widget:visible').waitFor({ state: 'hidden' });
    await activeTab(page).filter({ hasText: 'lanternfall.runs.yaml' }).waitFor();
  });
});
