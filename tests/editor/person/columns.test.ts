import assert from 'node:assert/strict';
import { after, before, describe, it } from 'mocha';
import type { Frame } from 'playwright-core';
import { activeTab, openFile } from '../host/workbench.ts';
import { chooseView, openPanel, settled } from './panelFrame.ts';
import { openPractice, practiceFrame } from './practiceFrame.ts';
import { openRunPage } from './runFrame.ts';
import type { OpenSample } from './sample.ts';

const WAIT = 120_000;
const WEEK =
  'route: lanternfall.route.yaml\n' +
  'days: { mon: 100, tue: 100, wed: 100, thu: 100, fri: 100, sat: 100, sun: 100 }\n';

describe('pages and files, in two columns', () => {
  let sample: OpenSample;
  let panel: Frame;
  before(async () => {
    // Whatever the day, there is a block to start.
    sample = await openPractice({ files: { 'lanternfall.week.yaml': WEEK } });
    await openFile(sample.page, 'lanternfall.route.yaml');
    panel = await openPanel(sample.page);
    await settled(panel);
  });
  after(() => sample.close());

  const columns = (): Promise<number> => sample.page.locator('.editor-group-container').count();
  /** The tabs of a column, from 0, by their titles. */
  const tabsOf = (column: number): Promise<string[]> =>
    sample.page
      .locator('.editor-group-container')
      .nth(column)
      .locator('.tab .label-name')
      .allInnerTexts()
      .then((titles) => titles.map((title) => title.trim()));

  it('starts a block from the panel as a page over it, with the text in sight', async () => {
    await panel
      .getByRole('button', { name: /^Start a block of / })
      .first()
      .click();
    await practiceFrame(sample.page);
    assert.equal(await columns(), 2);
    const [title] = (await tabsOf(1)).slice(-1);
    assert.match(title ?? '', /^Practice: /);
    assert.ok((await tabsOf(0)).includes('lanternfall.route.yaml'));
  });

  it('opens the page of a run there, too, from the page of the block', async () => {
    await openRunPage(sample.page);
    assert.equal(await columns(), 2);
    assert.ok((await tabsOf(1)).some((title) => title.startsWith('Log Run')));
  });

  it('opens a technique of the panel in the column of the text', async () => {
    const { page } = sample;
    panel = await openPanel(page);
    await chooseView(panel, 'Ranking');
    await panel.locator('.ranked .opener').first().click();
    await panel
      .getByRole('button', { name: /^Open in route/ })
      .first()
      .click();
    await activeTab(page).filter({ hasText: 'lanternfall.route.yaml' }).waitFor({ timeout: WAIT });
    assert.equal(await columns(), 2);
    assert.ok(!(await tabsOf(1)).some((title) => title.endsWith('.yaml')));
  });
});
