import assert from 'node:assert/strict';
import { describe, it } from 'mocha';
import { openFile, until } from '../host/workbench.ts';
import { lineWith, openSample } from './sample.ts';

const LOG = 'lanternfall.practice.yaml';
const text =
  'route: lanternfall.route.yaml\nsessions:\n  - start: 2026-11-05T19:30\n    blocks:\n' +
  '      - { technique: crate-vault, minutes: 25, landed: [12, 40] }\n';

describe('at the end of a log', () => {
  it('a new block is begun from the list of suggestions, with no dash typed', async () => {
    const sample = await openSample({ files: { [LOG]: text } });
    const { page } = sample;
    try {
      await openFile(page, LOG);
      await page.keyboard.press('Control+End');
      const rows = page.locator('.suggest-widget.visible .monaco-list-row');
      const second = rows.nth(1);
      // A server that has not read the files yet has nothing to suggest. Asked again while a list is open, the key does
      // something else: it shows details.
      await until(page, async () => {
        await page.keyboard.press('Control+Space');
        await second.waitFor({ timeout: 5000 }).catch(() => page.keyboard.press('Escape'));
        return second.isVisible();
      });
      const names = await rows.locator('.label-name').allInnerTexts();
      assert.deepEqual(names.slice(0, 2), ['new session', 'new block']);
      await page.keyboard.press('ArrowDown');
      await rows.and(page.locator('.focused')).filter({ hasText: 'new block' }).waitFor();
      await page.keyboard.press('Enter');
      // Without the values behind which a moment later their units stand.
      const block = lineWith(page, '- { technique: id, minutes: 25');
      await block.waitFor();
      assert.match(
        (await block.innerText()).replaceAll('\u00a0', ' '),
        /^ {6}- \{ technique: id, minutes: 25.*landed: \[0, 0\]/,
      );
    } finally {
      await sample.close();
    }
  });
});
