import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, describe, it } from 'mocha';
import { openFile, pickRows, runCommand } from '../host/workbench.ts';
import { panelFrame, settled } from './panelFrame.ts';
import { openSample, type OpenSample } from './sample.ts';

const WAIT = 120_000;

describe('A comparison, in the panel', () => {
  let sample: OpenSample;
  before(async () => {
    sample = await openSample();
    const git = (...args: string[]): void => {
      execFileSync('git', ['-c', 'user.name=Iris', '-c', 'user.email=iris@lanternfall.example', ...args], {
        cwd: sample.folder,
        stdio: 'ignore',
      });
    };
    git('init', '--quiet');
    git('add', '--all');
    git('commit', '--quiet', '--message', 'As it was');
  });
  after(() => sample.close());

  it('of nothing yet is begun by its button', async () => {
    const { page, folder } = sample;
    const text = await readFile(join(folder, 'lanternfall.route.yaml'), 'utf8');
    await writeFile(join(folder, 'shorter.route.yaml'), text.replace('time: 2:08', 'time: 2:03'));
    await openFile(page, 'lanternfall.route.yaml');
    await runCommand(page, 'Routewright: Preview Week');
    const frame = await panelFrame(page);
    await frame.getByRole('tab', { name: 'Compare' }).click();
    await frame.getByRole('button', { name: 'Compare with Another Route…' }).click();
    await pickRows(page).filter({ hasText: 'shorter.route.yaml' }).click();
    await frame
      .locator('.compare-view > .summary')
      .filter({ hasText: 'more than along A' })
      .waitFor({ timeout: WAIT });
    await settled(frame);
    const row = frame.locator('.two-routes title').filter({ hasText: /^Rope yard: / });
    assert.match((await row.textContent()) ?? '', /^Rope yard: \d\.\d s slower in B$/);
  });

  it('with the route as git has it says that nothing differs', async () => {
    const { page } = sample;
    await openFile(page, 'lanternfall.route.yaml');
    await runCommand(page, 'Routewright: Compare with an Earlier Version');
    await pickRows(page).filter({ hasText: 'As it was' }).click();
    const frame = await panelFrame(page);
    const same = 'A finished run is expected to take the same time along both.';
    await frame.locator('.compare-view > .summary').filter({ hasText: same }).waitFor({ timeout: WAIT });
    const sides = frame.locator('.compare-view .sides');
    assert.match(
      await sides.innerText(),
      /^A\s+lanternfall\.route\.yaml at [0-9a-f]{40}\s+B\s+lanternfall\.route\.yaml$/,
    );
    const words = await frame.locator('.two-routes .difference-words').allTextContents();
    assert.equal(words.length, 18);
    assert.deepEqual([...new Set(words)], ['the same']);
  });
});
