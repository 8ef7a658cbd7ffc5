import { after, before, describe, it } from 'mocha';
import { openFile, pickRows, runCommand } from '../host/workbench.ts';
import { openSample, statusItem, type OpenSample } from './sample.ts';

describe('a folder that the person does not trust', () => {
  let sample: OpenSample;
  before(async () => {
    sample = await openSample({ keepTrust: true });
  });
  after(() => sample.close());

  it('opens in Restricted Mode, where the route is checked and ranked all the same', async () => {
    const { page } = sample;
    await page.locator('.statusbar-item').filter({ hasText: 'Restricted Mode' }).waitFor();
    await openFile(page, 'lanternfall.practice.yaml');
    // The sample has one finding, the slip that it holds.
    await statusItem(page).and(page.locator('[aria-label$="1 problem"]')).waitFor();
    await runCommand(page, 'Routewright: Rank Next Skill');
    await pickRows(page).filter({ hasText: 's per hour' }).first().waitFor();
  });
});
