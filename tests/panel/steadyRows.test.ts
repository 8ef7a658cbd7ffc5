import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { PanelData } from '../../server/src/protocol/panel/panelData.ts';
import { answer, bundlePanel, openPanel, startBeforeTests } from './page.ts';

const started = startBeforeTests(bundlePanel);

const ranked = answer('ranking');
const ranking = ranked.ranking!;
const weekly = answer('week');
const week = weekly.week!;

const rankingOf = (change: Partial<typeof ranking>): PanelData => ({
  ...ranked,
  ranking: { ...ranking, ...change },
});
const weekOf = (change: Partial<typeof week>): PanelData => ({ ...weekly, week: { ...week, ...change } });

const outOfWeek = { standing: 'left-out', standingText: 'left out', inSet: false, leftOut: true } as const;

/** The ranking without its third row, which the week file now leaves out. */
function withoutThird(): PanelData {
  const { technique, name, pinned } = ranking.rows[2]!;
  const row = { technique, name, pinned, ...outOfWeek, reason: 'The week file leaves it out.' };
  return rankingOf({
    rows: ranking.rows.filter((one) => one.technique !== technique),
    skipped: [...ranking.skipped, row],
  });
}

const names = (page: Page): Promise<string[]> => page.locator('.ranked .opener').allInnerTexts();
/** How far a row is from the top of the window, in pixels. */
const topOf = (page: Page, row: string): Promise<number> =>
  page.locator(row).evaluate((node) => node.getBoundingClientRect().top);

describe('while the pointer is over a list', () => {
  it('no row of the ranking changes its place, and all do once it has left', async () => {
    const { page, choose, show } = await openPanel(started());
    await choose('ranking');
    const before = await names(page);
    const key = ranking.rows[1]!.technique;
    await page.locator(`[data-key="${key}"] .opener`).hover();
    const top = await topOf(page, `.ranked[data-key="${key}"]`);
    const turned = rankingOf({ rows: [...ranking.rows].reverse().slice(1) });
    await show(turned);
    expect(await names(page)).toEqual(before);
    expect(await topOf(page, `.ranked[data-key="${key}"]`)).toBeCloseTo(top, 0);
    await page.mouse.move(2, 2);
    await expect.poll(() => names(page)).toEqual(turned.ranking!.rows.map(({ name }) => name));
    await page.close();
  });

  it('no block of tonight and no swap gives its place to another one', async () => {
    const { page, said, choose, show } = await openPanel(started());
    await choose('week');
    const { tonight } = week;
    const [first, second] = tonight.steps;
    expect(second).toBeDefined();
    await page.locator('.step .start').first().hover();
    await show(weekOf({ tonight: { ...tonight, steps: [second!] } }));
    await page.mouse.down();
    await page.mouse.up();
    expect((await said()).at(-1)).toEqual({ type: 'practise', technique: first!.technique });

    await page.locator('.make-swap').first().hover();
    const count = (await said()).length;
    await show(weekOf({ tonight: { ...tonight, swaps: tonight.swaps.slice(1) } }));
    await page.mouse.down();
    await page.mouse.up();
    // It is no longer on offer, and no other swap is made in its place.
    expect((await said()).length).toBe(count);
    await page.close();
  });

  it('what appears above does not move the row either', async () => {
    const { page, choose, show } = await openPanel(started(), { height: 400 });
    await choose('week');
    const { technique } = week.set[1]!;
    const row = `.set-member[data-key="${technique}"]`;
    await page.locator(`${row} .pin`).hover();
    const top = await topOf(page, row);
    const line = {
      label: 'Changed',
      text: 'Much has changed since the morning of the day before. '.repeat(9),
    };
    await show(weekOf({ tonight: { ...week.tonight, lines: [...week.tonight.lines, line] } }));
    expect(Math.abs((await topOf(page, row)) - top)).toBeLessThanOrEqual(1);
    await page.close();
  });
});

describe('what was changed by a button', () => {
  it('is undone at the same place in the practice set, with the pointer there or not', async () => {
    const { page, said, choose, show } = await openPanel(started());
    await choose('week');
    const { technique, name, pinned } = week.set[1]!;
    await page.getByRole('button', { name: `Leave out ${name}`, exact: true }).click();
    const left = weekOf({
      set: week.set.filter((member) => member.technique !== technique),
      outside: [{ technique, name, pinned, ...outOfWeek }],
    });
    await show(left);
    await page.mouse.move(2, 2);
    await page.waitForTimeout(100);
    const members = () => page.locator('.set-member .name').allInnerTexts();
    expect(await members()).toEqual(week.set.map((member) => member.name));
    expect(await page.locator(`.set-member[data-key="${technique}"] .tag`).innerText()).toBe('left out');
    await page.getByRole('button', { name: `Take back ${name}`, exact: true }).press('Enter');
    expect((await said()).at(-1)).toEqual({ type: 'change', change: 'take-back', technique });
    await show(weekly);
    expect(await members()).toEqual(week.set.map((member) => member.name));
    expect(await page.getByRole('button', { name: `Leave out ${name}`, exact: true }).count()).toBe(1);

    // A pin that is taken away: the technique may leave the set, and its row has the way back.
    await page.getByRole('button', { name: `Pin ${name}`, exact: true }).press('Enter');
    await show(
      weekOf({ set: week.set.map((one) => (one.technique === technique ? { ...one, pinned: true } : one)) }),
    );
    await page.getByRole('button', { name: `Unpin ${name}`, exact: true }).press('Enter');
    await show(weekOf({ set: week.set.filter((member) => member.technique !== technique) }));
    expect(await page.getByRole('button', { name: `Pin ${name}`, exact: true }).count()).toBe(1);
    // In another view and back, the set is as the answer has it.
    await choose('odds');
    await page.getByRole('tab', { name: 'Week' }).click();
    await show(left);
    await expect.poll(members).toEqual(left.week!.set.map((member) => member.name));
    await page.close();
  });

  it('is undone in the row of the ranking, which stays open, and in the list of those not ranked', async () => {
    const { page, said, choose, show } = await openPanel(started());
    await choose('ranking');
    const { technique, name } = ranking.rows[2]!;
    const row = page.locator(`.ranked[data-key="${technique}"]`);
    await row.locator('.opener').click();
    await row.getByRole('button', { name: `Leave out ${name}`, exact: true }).click();
    await show(withoutThird());
    expect(await names(page)).toEqual(ranking.rows.map((one) => one.name));
    expect(await row.locator('.tag').innerText()).toBe('left out');
    await row.getByRole('button', { name: `Take back ${name}`, exact: true }).press('Enter');
    expect((await said()).at(-1)).toEqual({ type: 'change', change: 'take-back', technique });

    await page.locator('.skipped summary').click();
    const skipped = page.locator(`.skip[data-key="${technique}"]`);
    await skipped.getByRole('button', { name: `Take back ${name}`, exact: true }).press('Enter');
    await show(ranked);
    await page.mouse.move(2, 2);
    await skipped.getByRole('button', { name: `Leave out ${name}`, exact: true }).press('Enter');
    expect((await said()).at(-1)).toEqual({ type: 'change', change: 'leave-out', technique });
    await page.close();
  });

  it('stays with its own route', async () => {
    const { page, choose, show } = await openPanel(started());
    await choose('week');
    const [first, ...others] = week.set;
    await page.getByRole('button', { name: `Leave out ${first!.name}`, exact: true }).press('Enter');
    await show({ ...weekOf({ set: others }), routeUri: 'file:///w/another.route.yaml' });
    expect(await page.locator('.set-member .name').allInnerTexts()).toEqual(others.map(({ name }) => name));
    await page.close();
  });
});
