import { describe, expect, it } from 'vitest';
import type { PanelData } from '../../server/src/protocol/panel/panelData.ts';
import { panelViews } from '../../server/src/protocol/panel/views.ts';
import { answer, bundlePanel, openPanel, startBeforeTests } from './page.ts';

const started = startBeforeTests(bundlePanel);

describe('text that cannot be read', () => {
  /** What the server says of a view while line 5 of the route cannot be read. */
  const broken = (
    view: (typeof panelViews)[number],
    route = 'file:///w/lanternfall.route.yaml',
  ): PanelData => {
    const place = { uri: route, range: { start: { line: 4, character: 0 }, end: { line: 4, character: 0 } } };
    const text = 'Line 5 of lanternfall.route.yaml cannot be read: A quote is opened here and not closed.';
    const data = { ...answer(view), routeUri: route, asOf: '', techniques: [], [view]: null };
    return { ...data, broken: { text, way: 'Go to line 5', place } };
  };

  it.each(panelViews)(
    'leaves the last %s view as it was, dimmed, with the line and a way there',
    async (view) => {
      const { page, said, show, choose } = await openPanel(started());
      await choose(view);
      const body = page.locator(`.${view}-view`);
      const before = await body.innerText();
      await show(broken(view));
      const notice = page.getByRole('status').filter({ hasText: 'Line 5 of lanternfall.route.yaml' });
      await notice.waitFor();
      expect(await notice.innerText()).toContain('What stands below is from before that.');
      expect(await body.innerText()).toBe(before);
      expect(await page.locator('#view.dimmed').count()).toBe(1);
      expect(await page.locator('.message').isVisible()).toBe(false);
      await page.getByRole('button', { name: 'Go to line 5' }).press('Enter');
      expect((await said()).at(-1)).toEqual({ type: 'mend' });
      await show(answer(view));
      expect(await notice.isVisible()).toBe(false);
      expect(await page.locator('#view.dimmed').count()).toBe(0);
      await page.close();
    },
  );

  it('leaves nothing of another route', async () => {
    const { page, show, choose } = await openPanel(started());
    await choose('ranking');
    await show(broken('ranking', 'file:///w/other.route.yaml'));
    await page.getByRole('button', { name: 'Go to line 5' }).waitFor();
    expect(await page.locator('.broken-text').innerText()).not.toContain('What stands below');
    expect(await page.locator('.ranking-view').isVisible()).toBe(false);
    await page.close();
  });
});
