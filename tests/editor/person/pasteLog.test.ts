import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Locator } from 'playwright-core';
import { activeTab, openFile, pickRows, runCommand, until } from '../host/workbench.ts';
import { messages, openSample, type OpenSample } from './sample.ts';

const LIMIT_MS = 60_000;
const LOG = 'lanternfall.practice.yaml';
const COMMAND = 'Routewright: Paste Past Practice or Runs…';
const table = [
  'Date;Technique;Minutes;Landed;Tries',
  '2026-11-07 19:30;Crate vault;25;12;40',
  ';Crate vault;20;7;30',
];

describe('Paste Past Practice or Runs, by keyboard', () => {
  let sample: OpenSample;
  let original: string;
  before(async () => {
    sample = await openSample();
    original = await readFile(join(sample.folder, LOG), 'utf8');
    await sample.page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  });
  after(() => sample.close());

  /** Puts a table on the clipboard and runs the command; the list, once it has this text. */
  async function preview(text: string, shown: RegExp): Promise<Locator> {
    const { page } = sample;
    await page.evaluate(`navigator.clipboard.writeText(${JSON.stringify(text)})`);
    await runCommand(page, COMMAND);
    const list = page.locator('.quick-input-widget:visible');
    await list.filter({ hasText: shown }).waitFor({ timeout: LIMIT_MS });
    return list;
  }

  it('says the line, the column and the reason where a row cannot be read, and writes nothing', async () => {
    const { page } = sample;
    await openFile(page, LOG);
    const list = await preview(table.join('\r\n'), /Line 3, column Date: No date stands here/);
    assert.equal(await pickRows(page).filter({ hasText: 'Log into' }).count(), 0);
    await page.keyboard.press('Escape');
    await list.waitFor({ state: 'hidden' });
    await activeTab(page).filter({ hasText: LOG }).and(page.locator(':not(.dirty)')).waitFor();
  });

  it('shows the blocks, and on yes writes them into the log by one edit that one undo takes back', async () => {
    const { page, folder } = sample;
    const whole = [...table.slice(0, 2), `2026-11-07 20:00${table[2]!}`].join('\r\n');
    await preview(whole, /2 blocks, all on 2026-11-07/);
    await page.keyboard.press('Enter');
    await messages(page).filter({ hasText: 'Logged: 2 blocks' }).first().waitFor({ timeout: LIMIT_MS });
    const dirty = activeTab(page).filter({ hasText: LOG }).and(page.locator('.dirty'));
    await dirty.waitFor();
    await page.keyboard.press('Control+Z');
    await dirty.waitFor({ state: 'hidden' });
    await page.keyboard.press('Control+Shift+Z');
    await dirty.waitFor();
    await page.keyboard.press('Control+S');
    await dirty.waitFor({ state: 'hidden' });
    const added = async (): Promise<string> => await readFile(join(folder, LOG), 'utf8');
    await until(page, async () => (await added()) !== original, LIMIT_MS);
    const text = await added();
    assert.match(text, /technique: crate-vault, minutes: 25, landed: \[12, 40\]/);
    assert.match(text, /technique: crate-vault, minutes: 20, landed: \[7, 30\]/);
    const kept = original.split('\n').filter((line) => !text.split('\n').includes(line));
    assert.deepEqual(kept, []);
  });
});
