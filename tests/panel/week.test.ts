import { describe, expect, it } from 'vitest';
import { answer, bundlePanel, openPanel, startBeforeTests } from './page.ts';

const started = startBeforeTests(bundlePanel);

const week = answer('week').week!;
const nameOf = new Map(week.days.flatMap(({ blocks }) => blocks.map((one) => [one.technique, one.name])));

describe('the chart of the week', () => {
  it('says right below it what its numbers mean, where its blocks are too narrow for names', async () => {
    const { page, choose } = await openPanel(started(), { width: 320 });
    await choose('week');
    const labels = await page.locator('.week-days .stretch.block text').allTextContents();
    const key = await page
      .locator('.week-days .key .entry')
      .evaluateAll((entries) => entries.map((entry) => [...entry.children].map((part) => part.textContent)));
    const named = new Map(key.map(([number, name]) => [number, name]));
    const blocks = week.days.flatMap((day) => day.blocks);
    expect(labels.map((label) => named.get(label))).toEqual(blocks.map(({ name }) => name));
    // In the order in which they come, so that the first day reads 1, 2, 3.
    expect(key.map(([number]) => number)).toEqual([...nameOf.keys()].map((_, i) => String(i + 1)));
    const [below, table] = await page.evaluate(() => {
      const chart = document.querySelector('.week-days svg.chart')!;
      const list = document.querySelector('.week-days .key')!;
      return [chart.nextElementSibling === list, list.nextElementSibling?.className];
    });
    expect([below, table]).toEqual([true, 'days-table behind']);
    await page.close();
  });

  it('has names in a wide panel, and no numbers anywhere', async () => {
    const { page, choose } = await openPanel(started(), { width: 900 });
    await choose('week');
    expect(await page.locator('.week-days .key').isVisible()).toBe(false);
    const labels = await page.locator('.week-days .stretch.block text').allTextContents();
    const starts = labels.map((label) => label.replace('…', ''));
    const blocks = week.days.flatMap((day) => day.blocks);
    expect(blocks.map(({ name }, i) => name.startsWith(starts[i]!) && starts[i]!.length > 3)).toEqual(
      blocks.map(() => true),
    );
    const members = await page.locator('.set-member').allInnerTexts();
    expect(members.length).toBe(week.set.length);
    for (const [i, text] of members.entries()) expect(text.startsWith(week.set[i]!.name)).toBe(true);
    await page.close();
  });

  it.each([320, 640])(
    'labels the last tick of its axis, inside the drawing, %i pixels wide',
    async (width) => {
      const { page, choose } = await openPanel(started(), { width });
      await choose('week');
      const { ticks, labels, last, end } = await page.evaluate(() => {
        const chart = document.querySelector('.week-days svg.chart')!;
        const texts = [...chart.querySelectorAll('.x-axis .tick text')];
        return {
          ticks: chart.querySelectorAll('.x-axis .tick line').length,
          labels: texts.map((text) => text.textContent),
          last: texts.at(-1)!.getBoundingClientRect().right,
          end: chart.getBoundingClientRect().right,
        };
      });
      expect(labels.at(-1)).toBe(`${week.longest} min`);
      expect(ticks).toBe(labels.length);
      expect(last).toBeLessThanOrEqual(end + 1);
      await page.close();
    },
  );

  it.each([320, 640])(
    'has its buttons together at the right of its caption, %i pixels wide',
    async (width) => {
      const { page, choose } = await openPanel(started(), { width });
      await choose('week');
      const places = await page.evaluate(() => {
        const head = document.querySelector('.week-days figcaption')!;
        const { right, bottom } = head.getBoundingClientRect();
        const chart = document.querySelector('.week-days svg.chart')!.getBoundingClientRect();
        const [save, calendar] = ['.save', '.calendar'].map((one) =>
          head.querySelector(one)!.getBoundingClientRect(),
        );
        return {
          fromRight: right - calendar!.right,
          apart: calendar!.top === save!.top ? 0 : save!.right - calendar!.right,
          above: bottom <= chart.top,
        };
      });
      expect(places).toEqual({ fromRight: 0, apart: 0, above: true });
      await page.close();
    },
  );
});

describe('tonight on a narrow page', () => {
  it('begins no line of a step left of its name', async () => {
    const { page, choose } = await openPanel(started(), { width: 320 });
    await choose('week');
    const left = await page.locator('.step').evaluateAll((steps) =>
      steps.map((step) => {
        const name = step.querySelector('.step-name')!.getBoundingClientRect();
        const lines = [...step.querySelector('.step-text')!.getClientRects()];
        return Math.min(...lines.map((line) => line.left)) - name.left;
      }),
    );
    expect(left.length).toBeGreaterThan(1);
    for (const by of left) expect(by).toBeGreaterThanOrEqual(-0.5);
    await page.close();
  });
});

describe('a swap on offer', () => {
  const [offer] = week.tonight.swaps;
  const [first] = week.tonight.steps;
  const offered = (technique: string) => {
    const swaps = [{ ...offer!, technique }];
    return { ...answer('week'), week: { ...week, tonight: { ...week.tonight, swaps } } };
  };

  it('stands below tonight where it is about a technique of tonight, else below the practice set', async () => {
    const { page, show, choose } = await openPanel(started());
    await choose('week');
    const [tonight, set] = [page.locator('.tonight .swap'), page.locator('.set-swaps .swap')];
    await show(offered(first!.technique));
    expect([await tonight.count(), await set.count()]).toEqual([1, 0]);
    await show(offered('not-tonight'));
    expect([await tonight.count(), await set.count()]).toEqual([0, 1]);
    const inOrder = await page.evaluate(() => {
      const swaps = document.querySelector('.set-swaps')!;
      return [...document.querySelectorAll('.set, .week-days')].map((one) =>
        Boolean(one.compareDocumentPosition(swaps) & Node.DOCUMENT_POSITION_FOLLOWING),
      );
    });
    expect(inOrder).toEqual([true, false]);
    await page.close();
  });
});

describe.each(['high-contrast', 'high-contrast-light'] as const)('in the theme %s', (theme) => {
  it('what is filled has an outline of the theme', async () => {
    const { page, choose } = await openPanel(started(), { theme });
    await choose('week');
    const looks = await page.evaluate(() => {
      const probe = document.createElement('i');
      probe.style.color = 'var(--vscode-contrastBorder)';
      document.body.append(probe);
      const border = getComputedStyle(probe).color;
      probe.remove();
      return ['.stretch.block rect', '.band-ahead'].map((one) => {
        const { stroke, strokeOpacity, strokeWidth, fillOpacity } = getComputedStyle(
          document.querySelector(one)!,
        );
        const isSeen = Number(strokeOpacity) === 1 && parseFloat(strokeWidth) >= 1;
        return { border: stroke === border, isSeen, isFilled: Number(fillOpacity) >= 0.3 };
      });
    });
    for (const look of looks) expect(look).toEqual({ border: true, isSeen: true, isFilled: true });
    await page.close();
  });

  it('the bars that beat the target are filled more than the others, as their legend', async () => {
    const { page, choose } = await openPanel(started(), { theme });
    await choose('odds');
    const fills = (bars: string): Promise<string[]> =>
      page
        .locator(bars)
        .evaluateAll((all) => [...new Set(all.map((bar) => getComputedStyle(bar).fillOpacity))]);
    expect(await fills('.bar.under')).toEqual(['1']);
    expect(await fills('.bar:not(.under)')).toEqual(['0.4']);
    await page.close();
  });
});

describe('the choice of a run', () => {
  it('has room in a narrow panel, and ends in an ellipsis where a name is too long', async () => {
    const { page, show, choose } = await openPanel(started(), { width: 320 });
    await choose('after');
    const after = answer('after').after!;
    const runs = after.runs.map((one) => ({
      ...one,
      label: `2026-11-08 15:50, to ${'Chandlers Row '.repeat(5)}`,
    }));
    await show({ ...answer('after'), after: { ...after, runs } });
    const look = await page.locator('select#run').evaluate((select) => ({
      cut: getComputedStyle(select).textOverflow,
      right: select.getBoundingClientRect().right,
    }));
    expect(look.cut).toBe('ellipsis');
    expect(look.right).toBeLessThanOrEqual(320);
    await page.close();
  });
});
