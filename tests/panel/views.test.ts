import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { AxeResults, RunOptions } from 'axe-core';
import { describe, expect, it } from 'vitest';
import { panelViews } from '../../server/src/protocol/panel/views.ts';
import { answer, bundlePanel, openPanel, startBeforeTests, themes, type OpenPanel } from './page.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const started = startBeforeTests(bundlePanel);

async function violations({ page }: OpenPanel): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe);
  // Of what is in order, one example is enough: to describe each element of the page takes long.
  const found = await page.evaluate(() =>
    (window as unknown as { axe: { run(options: RunOptions): Promise<AxeResults> } }).axe.run({
      resultTypes: ['violations'],
    }),
  );
  return found.violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`));
}

describe.each(themes)('in the theme %s', (theme) => {
  it('has no view that axe-core objects to, opened up or not', async () => {
    const panel = await openPanel(started(), { theme });
    for (const view of panelViews) {
      await panel.choose(view);
      for (const summary of await panel.page.locator('summary:visible').all()) await summary.click();
      if (view === 'ranking') await panel.page.locator('.opener').first().click();
      expect(await violations(panel), view).toEqual([]);
    }
    await panel.show({ ...answer('odds'), odds: null, message: 'The route has no segment yet.' });
    expect(await violations(panel), 'empty').toEqual([]);
    await panel.choose('week');
    const range = { start: { line: 4, character: 0 }, end: { line: 4, character: 0 } };
    const place = { uri: answer('week').routeUri, range };
    const text = 'Line 5 of lanternfall.route.yaml cannot be read: A quote is opened here and not closed.';
    await panel.show({ ...answer('week'), week: null, broken: { text, way: 'Go to line 5', place } });
    await panel.page.getByRole('button', { name: 'Go to line 5' }).waitFor();
    expect(await violations(panel), 'cannot be read').toEqual([]);
    expect(panel.complaints).toEqual([]);
    await panel.page.close();
  });
});

describe.each([220, 300, 480, 640, 1400])('%i pixels wide', (width) => {
  it.each(panelViews)('shows %s without scrolling sideways', async (view) => {
    const panel = await openPanel(started(), { width });
    await panel.choose(view);
    for (const summary of await panel.page.locator('summary:visible').all()) await summary.click();
    if (view === 'ranking') await panel.page.locator('.opener').first().click();
    const wide = await panel.page.evaluate(() => document.scrollingElement?.scrollWidth ?? 0);
    expect(wide).toBeLessThanOrEqual(width);
    await panel.page.close();
  });
});

describe('the drawings', () => {
  /** A drawing as text, a part a line, its numbers to one decimal: what rounding errors do not reach. */
  const asText = (svg: string): string =>
    svg
      .replace(/-?\d+\.\d+(?:e-?\d+)?/g, (number) => String(Math.round(10 * Number(number)) / 10 + 0))
      .replace(/></g, '>\n<');
  const snapshot = (name: string): string => join(import.meta.dirname, 'snapshots', `${name}.svg`);

  it.each([
    ['week', 'week-days'],
    ['week', 'gain-ahead'],
    ['curve', 'curve-of-lamp-clip'],
    ['odds', 'final-times'],
    ['review', 'landed-expected'],
    ['progress', 'best-times'],
    ['progress', 'practice-hours'],
    ['progress', 'rates-of-net-climb'],
    ['progress', 'rates-of-lamp-clip'],
    ['after', 'against-usual'],
    ['compare', 'two-routes'],
  ] as const)('of the %s view: %s', async (view, name) => {
    const panel = await openPanel(started());
    await panel.choose(view);
    const drawing = panel.page.locator(`figure.${name} svg.chart`);
    expect(await drawing.getAttribute('role')).toBe('img');
    expect((await drawing.getAttribute('aria-label'))?.length).toBeGreaterThan(20);
    const svg = await drawing.evaluate((node) => node.outerHTML);
    await expect(asText(svg)).toMatchFileSnapshot(snapshot(name));
    await panel.page.close();
  });

  it('of the ranking, as it is saved', async () => {
    const panel = await openPanel(started());
    await panel.choose('ranking');
    await panel.page.getByRole('button', { name: /^Save SVG/ }).click();
    const saved = (await panel.said()).find((message) => message.type === 'save');
    const drawing = saved?.type === 'save' ? saved.drawing : '';
    await expect(asText(drawing.replace(/ font-family="[^"]*"/g, ''))).toMatchFileSnapshot(
      snapshot('ranking'),
    );
    expect(drawing).not.toMatch(/class=|style=|var\(|<script/);
    // A file of its own: it reads as XML and names its colours.
    const parsed = await panel.page.evaluate(
      (text) => new DOMParser().parseFromString(text, 'image/svg+xml').querySelector('parsererror') === null,
      drawing,
    );
    expect(parsed).toBe(true);
    for (const { name } of answer('ranking').ranking?.rows ?? []) expect(drawing).toContain(name);
    await panel.page.close();
  });

  it('every chart has a table with the same numbers', async () => {
    const panel = await openPanel(started());
    for (const view of ['week', 'curve', 'odds', 'review', 'progress', 'after', 'compare'] as const) {
      await panel.choose(view);
      const figures = panel.page.locator('figure:visible');
      const tables = panel.page.locator('figure:visible details.behind');
      expect(await tables.count(), view).toBeGreaterThanOrEqual(await figures.count());
    }
    const rows = (name: string): Promise<number> => panel.page.locator(`.${name} tbody tr`).count();
    expect(await rows('times-table')).toBe(answer('odds').odds?.bins.length);
    expect(await rows('review-table')).toBe(answer('review').review?.rows.length);
    expect(await rows('best-times-table')).toBe(answer('progress').progress?.times.rows.length);
    expect(await rows('hours-table')).toBe(answer('progress').progress?.hours.rows.length);
    const techniques = answer('progress').progress?.techniques ?? [];
    expect(await rows('rates-table')).toBe(techniques.flatMap((one) => one.rows).length);
    expect(await rows('against-usual-table')).toBe(answer('after').after?.differences.rows.length);
    expect(await rows('two-routes-table')).toBe(answer('compare').compare?.differences.rows.length);
    await panel.page.close();
  });
});
