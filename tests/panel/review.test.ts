import { describe, expect, it } from 'vitest';
import type { PanelData } from '../../server/src/protocol/panel/panelData.ts';
import type { ReviewedRow } from '../../server/src/protocol/panel/reviewView.ts';
import { answer, bundlePanel, openPanel, startBeforeTests, type OpenPanel } from './page.ts';

const started = startBeforeTests(bundlePanel);

const review = answer('review').review!;
const withRows = (rows: readonly ReviewedRow[]): PanelData => ({
  ...answer('review'),
  review: { ...review, rows: [...rows] },
});
const slipped = review.rows.filter((row) => row.slipped);
const others = review.rows.filter((row) => !row.slipped);

const legend = ({ page }: OpenPanel): Promise<string[]> =>
  page.locator('.landed-expected .key .means').allInnerTexts();

describe('the legend of the review', () => {
  it('has an entry for each mark that is drawn, and for no other', async () => {
    expect([slipped.length, others.length > 0]).toEqual([1, true]);
    const panel = await openPanel(started());
    await panel.choose('review');
    const all = [
      'landed in runs',
      'expected, if nothing had slipped',
      'how far the two are apart',
      'a slip: landed far less often',
    ];
    expect(await legend(panel)).toEqual(all);
    await panel.show(withRows(others));
    expect(await legend(panel)).toEqual(all.slice(0, 3));
    await panel.show(withRows(others.slice(0, 1).map((row) => ({ ...row, expected: row.landed }))));
    expect(await legend(panel)).toEqual(all.slice(0, 2));
    expect(await panel.page.locator('.reviewed .between').isVisible()).toBe(false);
    await panel.show(withRows(others.slice(0, 1).map((row) => ({ ...row, expected: null }))));
    expect(await legend(panel)).toEqual(all.slice(0, 1));
    await panel.show(withRows(slipped));
    expect(await legend(panel)).toEqual([all[1], all[3]]);
    await panel.page.close();
  });

  it('tells a slip by shape, width and word, not by colour alone', async () => {
    const { page, choose } = await openPanel(started());
    await choose('review');
    const looks = await page.evaluate(() => {
      const look = (row: Element) => ({
        mark: row.querySelector('.landed-mark')!.getAttribute('d'),
        width: getComputedStyle(row.querySelector('.between')!).strokeWidth,
        name: row.querySelector('.reviewed-name')!.textContent,
      });
      return [...document.querySelectorAll('.reviewed-row')].slice(0, 2).map(look);
    });
    const [slip, other] = looks;
    expect(slip!.name).toMatch(/: slipped$/);
    expect(other!.name).not.toMatch(/slipped/);
    expect(slip!.mark).not.toBe(other!.mark);
    expect(parseFloat(slip!.width)).toBeGreaterThan(3 * parseFloat(other!.width));
    await page.close();
  });
});
