import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import type { Frame } from 'playwright-core';
import { activeTab, goTo, openFile } from '../host/workbench.ts';
import { openPractice, pressTape, startBlock } from './practiceFrame.ts';
import { lineWith, ROOT, type OpenSample } from './sample.ts';

const WAIT = 120_000;
/** Milliseconds between two attempts: much longer than the cycle in the route below. */
const SLOW_MS = 3300;
const CYCLE = 'attempt: 0.5, reload: 0.5, from: "quay';

describe('attempts that come slower than the route says, in the practice view', () => {
  let sample: OpenSample;
  let frame: Frame;
  before(async () => {
    const route = await readFile(join(ROOT, 'samples', 'lanternfall.route.yaml'), 'utf8');
    const quick = route.replace('attempt: 4, reload: 1, from: "quay', CYCLE);
    assert.notEqual(quick, route);
    // A technique with a short cycle, so that the test takes half a minute.
    sample = await openPractice({
      files: { 'lanternfall.route.yaml': quick },
      // Hints would be drawn between the words that the test looks for.
      settings: { 'editor.inlayHints.enabled': 'off' },
    });
  });
  after(() => sample.close());

  const saved = (): Promise<string> => readFile(join(sample.folder, 'lanternfall.route.yaml'), 'utf8');

  it('are pointed out, with the cycle that would fit', async () => {
    const { page } = sample;
    frame = await startBlock(page, 'Crate vault');
    for (const letter of 'lmllmllml') {
      assert.equal(await frame.locator('#slow').isVisible(), false);
      await page.waitForTimeout(SLOW_MS);
      await pressTape(page, frame, letter);
    }
    await frame.locator('#slow').waitFor();
    assert.match(
      await frame.locator('#slow-text').innerText(),
      /came about 3(\.5)? s apart; the route says 1 s\./,
    );
    assert.match(await frame.locator('#correct').innerText(), /^Set the Cycle to 3(\.5)? s$/);
  });

  it('have the cycle corrected in the route on request: by an edit that is the person’s to save or undo', async () => {
    const { page } = sample;
    const before = await saved();
    const cycle = /to ([\d.]+) s/.exec(await frame.locator('#correct').innerText())?.[1] ?? '';
    await frame.locator('#correct').click();
    await frame
      .locator('#said')
      .filter({
        hasText: `The cycle of Crate vault is ${cycle} s now in lanternfall.route.yaml, to be saved.`,
      })
      .waitFor({ timeout: WAIT });
    await frame.locator('#slow').waitFor({ state: 'hidden' });
    assert.equal(await saved(), before);

    await openFile(page, 'lanternfall.route.yaml');
    await goTo(page, before.slice(0, before.indexOf(CYCLE)).split('\n').length);
    const corrected = CYCLE.replace('reload: 0.5', `reload: ${Number(cycle) - 0.5}`);
    await lineWith(page, corrected).first().waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    assert.equal(await saved(), before.replace(CYCLE, corrected));

    await page.keyboard.press('Control+Z');
    await lineWith(page, CYCLE).first().waitFor({ timeout: WAIT });
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor();
    assert.equal(await saved(), before);
  });
});
