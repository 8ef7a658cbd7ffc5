import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { startBeforeTests } from '../panel/page.ts';
import { attemptsOf, blockData, bundlePractice, openView } from './page.ts';

const started = startBeforeTests(bundlePractice);

const long = {
  name: 'Net climb',
  from: 'net lofts, at the winch',
  notes: 'Grab the second row of floats. Lately I reach for the first and do not know why.\n'.repeat(6),
};

/** The ids of those elements that are not whole in sight, or are below something else. */
const outOfSight = (page: Page, ids: readonly string[]): Promise<string[]> =>
  page.evaluate((asked) => {
    const isSeen = (id: string): boolean => {
      const element = document.getElementById(id);
      if (!element) return false;
      const { top, right, bottom, left, width } = element.getBoundingClientRect();
      if (width === 0 || top < 0 || left < 0 || bottom > innerHeight || right > innerWidth) return false;
      const found = document.elementFromPoint(left + width / 2, (top + bottom) / 2);
      return found === element || element.contains(found);
    };
    return asked.filter((id) => !isSeen(id));
  }, ids);

const clocks = ['left', 'attempts', 'landed-count'];
const buttons = ['do-landed', 'do-missed', 'do-back', 'do-end'];

describe('in a window of usual size at 200 %', () => {
  it.each([
    [640, 400, false],
    [640, 400, true],
    [640, 360, false],
    [480, 400, false],
    [335, 548, false],
    [335, 548, true],
    [300, 400, false],
    [300, 400, true],
    [300, 300, false],
    [1280, 720, false],
    [1280, 721, false],
  ])(
    'has name, clock, counts and all four buttons in sight (%i × %i, large: %s)',
    async (width, height, large) => {
      const { page, show } = await openView(started(), { width, height });
      const attempts = attemptsOf('lmm'.repeat(50), 2);
      const all = ['name', 'large', ...clocks, 'pause', ...buttons];
      await show(blockData({ ...long, large }));
      expect(await outOfSight(page, [...all, 'from'])).toEqual([]);
      for (const said of ['', 'Time is up. The attempt under way still counts.']) {
        await show(blockData({ ...long, large, attempts, said }));
        expect(await outOfSight(page, [...all, said === '' ? 'from' : 'said'])).toEqual([]);
      }
      for (const id of clocks)
        expect(await page.locator(`#${id}`).evaluate((node) => node.scrollWidth - node.clientWidth), id).toBe(
          0,
        );
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      await page.close();
    },
  );

  it('keeps a notice off the four buttons', async () => {
    const { page, show } = await openView(started(), { width: 335, height: 548 });
    const slow = {
      cycle: 9.5,
      text: 'The last 9 attempts came about 9.5 s apart; the route says 5 s. A quicker way back would make room for more.',
    };
    await show(blockData({ ...long, slow, attempts: attemptsOf('lm', 5) }));
    expect(await outOfSight(page, ['correct', 'keep', ...buttons])).toEqual([]);
    await page.close();
  });

  it('is looked at in a way that sees what is cut off', async () => {
    const { page, show } = await openView(started(), { width: 300, height: 160 });
    await show(blockData(long));
    expect(await outOfSight(page, ['do-end'])).toEqual(['do-end']);
    await page.close();
  });
});

describe('where the page is scrolled down', () => {
  const scrolled = (page: Page): Promise<number> => page.evaluate(() => scrollY);

  it('shows the rest and the next block from their name on, and stays in a pause', async () => {
    const { page, show } = await openView(started(), { width: 335, height: 400 });
    const attempts = attemptsOf('lml', 5);
    await show(blockData({ ...long, attempts }));
    const scrollDown = async (): Promise<void> => {
      await page.evaluate(() => scrollTo(0, 60));
      expect(await scrolled(page)).toBe(60);
    };
    await scrollDown();
    await show(blockData({ ...long, attempts, phase: 'paused', pausedAt: Date.now() }));
    await show(blockData({ ...long, attempts }));
    await show(blockData({ ...long, attempts, phase: 'up', timeUp: true }));
    expect(await scrolled(page)).toBe(60);
    const next = { technique: 'wall-kick', name: 'Wall kick', minutes: 25, from: 'the well' };
    await show(blockData({ phase: 'rest', restEnds: Date.now() + 300_000, attempts, next }));
    expect(await scrolled(page)).toBe(0);
    await scrollDown();
    await show(blockData({ phase: 'rested', restEnds: Date.now(), attempts, next }));
    expect(await scrolled(page)).toBe(60);
    await show(blockData({ ...long, phase: 'ready' }));
    expect(await scrolled(page)).toBe(0);
    expect(await outOfSight(page, ['name'])).toEqual([]);
    await page.close();
  });
});

describe('the last attempts', () => {
  it('are signs of two shapes below a label, and words for a screen reader', async () => {
    const { page, show } = await openView(started());
    await show(blockData());
    const tape = page.locator('#tape');
    expect(await tape.innerText()).toBe('none yet');
    expect(await page.getByRole('img', { name: 'No attempt yet' }).count()).toBe(1);
    expect(await page.locator('#tape-title').innerText()).toBe('Last attempts');
    await show(blockData({ attempts: attemptsOf('l', 5) }));
    expect(await page.getByRole('img', { name: 'The last attempt: landed' }).count()).toBe(1);
    await show(blockData({ attempts: attemptsOf('mlmllm', 5) }));
    expect(await tape.innerText()).toBe('✗✓✗✓✓✗');
    const words = 'The last 6 attempts, the newest last: missed, landed, missed, landed, landed, missed';
    expect(await page.getByRole('img', { name: words }).count()).toBe(1);
    await page.close();
  });

  it.each([300, 640])(
    'end with the newest one in a line of %i pixels, also once it has another width',
    async (width) => {
      const { page, show } = await openView(started(), { width });
      const attempts = attemptsOf(`${'m'.repeat(60)}lml`, 5);
      await show(blockData({ attempts }));
      const line = (): Promise<{ text: string; over: number; height: number }> =>
        page.locator('#tape').evaluate((node) => ({
          text: node.textContent ?? '',
          over: node.scrollWidth - node.clientWidth,
          height: node.clientHeight,
        }));
      const before = await line();
      expect(before.over).toBe(0);
      expect(before.text).toMatch(/^…✗{5,}✓✗✓$/);
      await page.setViewportSize({ width: 940 - width, height: 800 });
      await expect.poll(async () => (await line()).text.length !== before.text.length).toBe(true);
      const after = await line();
      expect(after.over).toBe(0);
      expect(after.text).toMatch(/^…✗{5,}✓✗✓$/);
      expect(after.height).toBe(before.height);
      await page.close();
    },
  );
});

describe('a number that is not known yet', () => {
  it('is a word that says when it comes, or is not shown at all', async () => {
    const { page, show } = await openView(started());
    await show(blockData({ usual: '' }, 1));
    expect(await page.locator('#pace').innerText()).toBe('none yet');
    expect(await page.locator('#lately').innerText()).toBe('none yet');
    expect(await page.locator('#usual-field').isVisible()).toBe(false);
    await show(blockData({ attempts: attemptsOf('lm', 4) }, 0.2));
    expect(await page.locator('#pace').innerText()).toBe('after 20 s');
    expect(await page.locator('#lately').innerText()).toBe('1 of 2');
    const terms = await page.locator('#board dt').allInnerTexts();
    expect(terms.slice(3)).toEqual([
      'Attempts per minute',
      'Landed in the last 30\u00a0s',
      'You usually land',
    ]);
    await page.close();
  });
});
