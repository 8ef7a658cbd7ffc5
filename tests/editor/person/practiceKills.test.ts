import assert from 'node:assert/strict';
import { describe, it } from 'mocha';
import { killHost, killHosts, reloadWindow } from './hostKills.ts';
import { openPractice, pressTape, startBlock } from './practiceFrame.ts';

const KILLS = 3;
const SEED = 20261005;
const WAIT = 120_000;

describe('the extension host killed while attempts are logged by key', () => {
  // tests/editor/practiceKills.ts is a command that does the same with twenty kills.
  it(`${KILLS} kills: what was acknowledged is in the saved file, once and in its order`, async () => {
    const account = await killHosts(KILLS, SEED);
    assert.equal(account.kills, KILLS);
    assert.ok(account.acknowledged > KILLS, JSON.stringify(account));
  });

  it('presses that reach nobody are pointed out, and the block goes on without them', async () => {
    const sample = await openPractice();
    const { page, state } = sample;
    try {
      const frame = await startBlock(page, 'Crate vault');
      await pressTape(page, frame, 'lml');
      killHost(state);
      for (const letter of 'lm') await page.keyboard.press(letter);
      await frame
        .locator('#unanswered')
        .filter({ hasText: '2 presses have had no answer' })
        .waitFor({ timeout: WAIT });
      assert.equal(await frame.locator('#attempts').innerText(), '3');
      const again = await reloadWindow(page);
      await again.locator('#attempts').filter({ hasText: /^3$/ }).waitFor({ timeout: WAIT });
      assert.equal(await again.locator('#unanswered').isVisible(), false);
    } finally {
      await sample.close();
    }
  });
});
