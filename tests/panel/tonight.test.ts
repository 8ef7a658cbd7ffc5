import { describe, expect, it } from 'vitest';
import type { PanelData } from '../../server/src/protocol/panel/panelData.ts';
import type { TonightView } from '../../server/src/protocol/panel/tonightView.ts';
import { answer, bundlePanel, openPanel, startBeforeTests, themes, withPlainSpaces } from './page.ts';

const started = startBeforeTests(bundlePanel);

const week = answer('week').week!;
const withTonight = (change: Partial<TonightView>): PanelData => ({
  ...answer('week'),
  week: { ...week, tonight: { ...week.tonight, ...change } },
});

describe('Tonight', () => {
  it('is the first section of the week, under a heading with its day', async () => {
    const { page, choose } = await openPanel(started());
    await choose('week');
    const section = page.getByRole('region', { name: 'Tonight, Mon 2026-11-16' });
    const headings = await page.locator('#view').getByRole('heading', { level: 2 }).allInnerTexts();
    expect(headings.slice(0, 3)).toEqual(['Tonight, Mon 2026-11-16', 'The week', 'Practice set']);
    const steps = await section.locator('.step').allInnerTexts();
    expect(steps.join()).not.toMatch(/\d min\b/);
    expect(steps.map(withPlainSpaces)).toEqual(
      week.tonight.steps.map(
        ({ name, text }) => expect.stringMatching(`^${name}\\s*${text}\\s*Start$`) as string,
      ),
    );
    expect(await section.locator('dt').allInnerTexts()).toEqual(week.tonight.lines.map(({ label }) => label));
    const lines = await section.locator('dd').allInnerTexts();
    expect(lines.map(withPlainSpaces)).toEqual(week.tonight.lines.map(({ text }) => text));
    // No line ends between a number and its unit.
    expect(lines.join()).toMatch(/\d\u00a0%/);
    expect(lines.join()).not.toMatch(/\d (%|min\b|h\b|s\b)/);
    const summary = await page.locator('#view p.summary').first().innerText();
    expect(withPlainSpaces(summary)).toBe(week.summary);
    expect(summary).toMatch(/\d\u00a0s\b/);
    await page.close();
  });

  it('opens a technique by keyboard', async () => {
    const { page, said, choose } = await openPanel(started());
    await choose('week');
    await page.locator('#view').focus();
    await page.keyboard.press('Tab');
    const [first] = week.tonight.steps;
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      `Open in route: ${first!.name}`,
    );
    await page.keyboard.press('Enter');
    expect((await said()).at(-1)).toEqual({ type: 'open', technique: first!.technique });
    await page.close();
  });

  it('starts a block of a step by keyboard, and of a row of the ranking', async () => {
    const { page, said, choose } = await openPanel(started());
    await choose('week');
    const [first] = week.tonight.steps;
    await page
      .getByRole('button', { name: `Start a block of ${first!.name}`, exact: true })
      .first()
      .focus();
    await page.keyboard.press('Enter');
    expect((await said()).at(-1)).toEqual({ type: 'practise', technique: first!.technique });
    await choose('ranking');
    const row = answer('ranking').ranking!.rows[1]!;
    await page.locator(`[data-key="${row.technique}"] .opener`).click();
    await page.getByRole('button', { name: `Start a block of ${row.name}`, exact: true }).click();
    expect((await said()).at(-1)).toEqual({ type: 'practise', technique: row.technique });
    await page.close();
  });

  it('keeps the focus and the elements while numbers change', async () => {
    const { page, show, choose } = await openPanel(started());
    await choose('week');
    const button = page.locator('.step-name').nth(1);
    await button.focus();
    await button.evaluate((node) => Object.assign(window, { kept: node }));
    const steps = week.tonight.steps.map((step) => ({ ...step, text: '20 min' }));
    await show(withTonight({ steps }));
    expect(
      await page.evaluate(() => (window as unknown as { kept: Element }).kept === document.activeElement),
    ).toBe(true);
    const shown = await page.locator('.step-text').allInnerTexts();
    expect(shown.map(withPlainSpaces)).toEqual(steps.map(() => '20 min'));
    await page.close();
  });

  it('has a button for each swap on offer, and no list where there is none', async () => {
    const { page, said, show, choose } = await openPanel(started());
    await choose('week');
    const { swaps } = week.tonight;
    expect(swaps.length).toBeGreaterThan(0);
    const list = page.getByRole('list', { name: 'Swaps to think about' });
    const texts = await list.locator('.swap-text').allInnerTexts();
    expect(texts.map(withPlainSpaces)).toEqual(swaps.map(({ text }) => text));
    const { technique, instead, title } = swaps.at(-1)!;
    await list.getByRole('button', { name: title }).focus();
    await page.keyboard.press('Enter');
    expect((await said()).at(-1)).toEqual({ type: 'swap', technique, instead });
    await show(withTonight({ swaps: [] }));
    expect(await list.isVisible()).toBe(false);
    await page.close();
  });

  it('says why there is nothing to practise, and shows no empty list', async () => {
    const { page, show, choose } = await openPanel(started());
    await choose('week');
    const summary = 'Nothing. Today has no minutes for practice.';
    await show(withTonight({ summary, steps: [] }));
    expect(await page.getByText(summary).isVisible()).toBe(true);
    expect(await page.locator('.steps').isVisible()).toBe(false);
    await show(answer('week'));
    expect(await page.getByText(summary).count()).toBe(0);
    expect(await page.locator('.step').count()).toBe(week.tonight.steps.length);
    await page.close();
  });

  it.each(themes)('has the colours of the theme %s', async (theme) => {
    const { page, choose } = await openPanel(started(), { theme });
    await choose('week');
    const colours = await page.evaluate(() => {
      const ink = getComputedStyle(document.body).color;
      const section = document.querySelector('.tonight')!;
      const others = [...section.querySelectorAll('button, h2, dd, .step-text')]
        .map((node) => getComputedStyle(node).color)
        .filter((colour) => colour !== ink);
      return { ink, others };
    });
    expect(colours.ink).toMatch(/^rgb/);
    expect(colours.others).toEqual([]);
    await page.close();
  });
});
