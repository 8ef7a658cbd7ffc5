/** The look back over the months in the panel: its charts, their names, the choice of how much is shown, what is missing. */
import { describe, expect, it } from 'vitest';
import type { PanelData } from '../../server/src/protocol/panel/panelData.ts';
import type { ProgressView } from '../../server/src/protocol/panel/progressView.ts';
import { answer, bundlePanel, openPanel, startBeforeTests, withPlainSpaces, type OpenPanel } from './page.ts';

const started = startBeforeTests(bundlePanel);
const data = answer('progress');
const progress = data.progress!;
const other = (changed: Partial<ProgressView>, more: Partial<PanelData> = {}): PanelData => ({
  ...data,
  progress: { ...progress, ...changed },
  ...more,
});

async function opened(width = 640): Promise<OpenPanel> {
  const panel = await openPanel(started(), { width });
  await panel.choose('progress');
  return panel;
}

describe('the small charts of techniques', () => {
  it('are named for a person who cannot see them, and have a table each', async () => {
    const { page } = await opened();
    for (const { name, summary, standing, practised } of progress.techniques) {
      const figure = page.getByRole('figure').filter({ has: page.getByRole('img', { name: `${name}. ` }) });
      expect(await figure.getByRole('img').getAttribute('aria-label')).toBe(
        `${name}. Landing rate. ${summary}`,
      );
      const head = withPlainSpaces(await figure.locator('figcaption').innerText());
      for (const words of [name, standing, practised]) expect(head).toContain(words);
      await figure.getByText(`${name} as a table`).click();
      expect(await figure.getByRole('table', { name: `${name} as a table` }).isVisible()).toBe(true);
    }
    await page.close();
  });

  it('stand in the order of the route and have the same axes, one of them at each width of the page', async () => {
    for (const [width, columns] of [
      [220, 1],
      [640, 2],
      [960, 3],
      [1400, 3],
    ] as const) {
      const { page } = await opened(width);
      const names = await page.locator('.small-chart .caption').allInnerTexts();
      expect(names).toEqual(progress.techniques.map(({ name }) => name));
      const axes = await page
        .locator('.small-chart svg.chart')
        .evaluateAll((charts) =>
          charts.map((chart) =>
            [...chart.querySelectorAll('.x-axis .tick, .y-axis .tick')]
              .map((tick) => `${tick.textContent ?? ''} ${tick.getAttribute('transform') ?? ''}`)
              .join(),
          ),
        );
      expect(new Set(axes).size).toBe(1);
      expect(axes[0]).toContain('100 %');
      const tops = await page
        .locator('.small-chart svg.chart')
        .evaluateAll((charts) => charts.map((chart) => Math.round(chart.getBoundingClientRect().top)));
      expect(tops.filter((top) => top === tops[0])).toHaveLength(columns);
      await page.close();
    }
  });

  it('tell practice from runs by shape, and the number of tries by size', async () => {
    const { page } = await opened();
    const shapeOf = (kind: string) => page.locator(`.rates-key .result.${kind}`).first().getAttribute('d');
    // A circle is drawn with arcs, a diamond with lines.
    expect(await shapeOf('practice')).toContain('A');
    expect(await shapeOf('run')).not.toContain('A');
    const at = progress.techniques.findIndex(
      ({ practice }) => new Set(practice.map(({ tries }) => tries)).size > 2,
    );
    const sizes = await page
      .locator('.small-chart')
      .nth(at)
      .locator('.rate-marks-practice path')
      .evaluateAll((marks) => marks.map((mark) => (mark as SVGPathElement).getBBox().width));
    const tries = progress.techniques[at]!.practice.map((point) => point.tries);
    const order = (numbers: readonly number[]): number[] =>
      numbers.map((_, i) => i).sort((a, b) => numbers[a]! - numbers[b]!);
    expect(order(sizes)).toEqual(order(tries));
    await page.close();
  });

  it('break their lines where a period has no try, and show ranges where there are few', async () => {
    const { page } = await opened();
    for (const [at, { practice, run }] of progress.techniques.entries()) {
      const chart = page.locator('.small-chart').nth(at);
      const line = (await chart.locator('.rate-line-run').getAttribute('d')) ?? '';
      expect(line.split('M')).toHaveLength(1 + run.filter(({ joined }, i) => i === 0 || !joined).length);
      const few = [...practice, ...run].filter(({ range }) => range !== null);
      expect(await chart.locator('.rate-range').count()).toBe(few.length);
    }
    await page.close();
  });
});

describe('the best finished time', () => {
  it('is a step at each record, with a dot for each finished run and the target as a line', async () => {
    const { page } = await opened();
    const chart = page.locator('.best-times svg.chart');
    expect(await chart.locator('circle.finished-run').count()).toBe(progress.times.runs.length);
    const path = (await chart.locator('.best-line').getAttribute('d')) ?? '';
    const levels = new Set([...path.matchAll(/[V,](-?[\d.]+)/g)].map(([, y]) => y));
    expect(levels.size).toBe(progress.times.runs.filter(({ isBest }) => isBest).length);
    expect(await chart.locator('.target-label').textContent()).toBe('Target 41:30');
    expect(await page.locator('.best-times').getByRole('img').getAttribute('aria-label')).toContain(
      'The best finished time is 41:37.4, of 2026-11-01.',
    );
    await page.close();
  });

  it('goes on from the best time before the first day shown, and has no line without a target', async () => {
    const { page, show } = await opened();
    await show(other({ times: { ...progress.times, bestBefore: progress.times.slowest, target: null } }));
    const path = (await page.locator('.best-times .chart .best-line').getAttribute('d')) ?? '';
    expect(path).toMatch(/^M56,10H/);
    expect(await page.locator('.best-times .chart .target').isVisible()).toBe(false);
    await page.close();
  });
});

describe('what is missing', () => {
  it('is said beside the button that ends it', async () => {
    const { page, show, said } = await opened(300);
    const { times, hours } = progress;
    await show(
      other(
        {
          times: {
            ...times,
            runs: [],
            rows: [],
            summary: 'No finished run with a final time is logged yet.',
          },
          hours: { ...hours, rows: [], summary: 'No practice is logged yet.' },
        },
        {
          remedies: [
            { remedy: 'log-block', text: 'Log a Block…' },
            { remedy: 'log-run', text: 'Log a Run' },
          ],
        },
      ),
    );
    for (const [part, text, remedy] of [
      ['times', 'Log a Run', 'log-run'],
      ['hours', 'Log a Block…', 'log-block'],
    ] as const) {
      const button = page.getByRole('button', { name: text });
      expect(await button.count()).toBe(1);
      expect(await page.locator(`.${part}-text + .${part}-lack`).getByRole('button').innerText()).toBe(text);
      await button.focus();
      await page.keyboard.press('Enter');
      expect((await said()).at(-1)).toEqual({ type: 'remedy', remedy });
    }
    expect(await page.locator('.best-times').isVisible()).toBe(false);
    expect(await page.locator('.practice-hours').isVisible()).toBe(false);
    await show(data);
    expect(await page.getByRole('button', { name: 'Log a Run' }).count()).toBe(0);
    await page.close();
  });

  it('of everything is one sentence with both buttons', async () => {
    const { page, show } = await opened();
    await show({
      ...data,
      progress: null,
      message: 'Nothing is logged yet.',
      remedies: [
        { remedy: 'log-block', text: 'Log a Block…' },
        { remedy: 'log-run', text: 'Log a Run' },
      ],
    });
    expect(await page.getByText('Nothing is logged yet.').isVisible()).toBe(true);
    expect(await page.locator('.view > .remedies').getByRole('button').count()).toBe(2);
    expect(await page.locator('.progress-view').isVisible()).toBe(false);
    await page.close();
  });
});

describe('how much is shown', () => {
  const choices = [
    { months: 6, text: '6 months' },
    { months: 12, text: '12 months' },
    { months: 25, text: 'All' },
  ];

  it('is chosen by keyboard where the logs are long, and asked for again after a restart', async () => {
    const { page, show, said, tell } = await opened();
    expect(await page.getByLabel('Shown', { exact: true }).isVisible()).toBe(false);
    await show(other({ months: 25, choices }));
    const list = page.getByLabel('Shown', { exact: true });
    expect(await list.inputValue()).toBe('25');
    await list.focus();
    await page.keyboard.press('ArrowUp');
    expect((await said()).at(-1)).toEqual({
      type: 'look',
      view: 'progress',
      technique: null,
      objective: 'time',
      months: 12,
    });
    await show(other({ months: 12, choices }));
    expect(await list.evaluate((node) => node === document.activeElement)).toBe(true);
    await page.reload();
    await page.locator('.tab').first().waitFor();
    expect((await said()).at(-1)).toMatchObject({ type: 'ready', stored: { view: 'progress', months: 12 } });
    await tell({ type: 'look', view: 'week', technique: null });
    expect((await said()).at(-1)).toMatchObject({ type: 'look', view: 'week', months: 12 });
    await page.close();
  });
});
