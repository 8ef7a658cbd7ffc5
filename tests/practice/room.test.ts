import { describe, expect, it } from 'vitest';
import { startBeforeTests } from '../panel/page.ts';
import { attemptsOf, blockData, bundlePractice, openView, type OpenView } from './page.ts';

const started = startBeforeTests(bundlePractice);

/** A view that shows a block. */
async function open(data = blockData()): Promise<OpenView> {
  const view = await openView(started());
  await view.show(data);
  return view;
}

describe('a block', () => {
  it('stands still in a pause: no key counts, the block can be ended, and it goes on by its button', async () => {
    const now = Date.now();
    const { page, pressed, said, show } = await open(blockData({ now }));
    await page.getByRole('button', { name: 'Pause' }).click();
    await show(blockData({ now, phase: 'paused', pausedAt: now - 60_000, ends: now + 300_000 }));
    expect(await page.locator('#left-title').innerText()).toBe('Paused');
    expect(await page.locator('#left').innerText()).toBe('6:00');
    for (const key of ['l', 'm', 'Backspace']) await page.keyboard.press(key);
    expect(await page.getByRole('button', { name: 'Landed (L)' }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Go On' }).click();
    await page.keyboard.press('e');
    expect(await pressed()).toEqual(['end']);
    expect((await said()).map(({ type }) => type)).toEqual(['ready', 'pause', 'resume', 'press']);
    await page.close();
  });

  it('counts down before it begins, and no key counts then', async () => {
    const now = Date.now();
    const { page, pressed } = await open(blockData({ now, phase: 'ready', began: now + 2500 }));
    expect(await page.locator('#left-title').innerText()).toBe('Get ready');
    expect(await page.locator('#left').innerText()).toBe('0:03');
    await page.keyboard.press('l');
    expect(await pressed()).toEqual([]);
    await page.close();
  });

  it('shows at the rest what the block showed beside the usual, and saves the log', async () => {
    const { page, said, show } = await open();
    const restEnds = Date.now() + 300_000;
    const attempts = attemptsOf('lmllm', 5);
    await show(blockData({ phase: 'rest', restEnds, attempts, unsaved: true }));
    expect(await page.locator('#result-landed').innerText()).toMatch(/^3 of 5, 60.%$/);
    expect(await page.locator('#result-usual').innerText()).toBe('41 %');
    expect(await page.locator('#rest-clock').innerText()).toMatch(/^(5:00|4:59)$/);
    const save = page.getByRole('button', { name: 'Save the Log' });
    await save.click();
    expect((await said()).at(-1)).toEqual({ type: 'save' });
    await show(blockData({ phase: 'rest', restEnds, attempts }));
    expect(await save.isVisible()).toBe(false);
    await page.close();
  });
});

describe('for the room', () => {
  it('shows clock and counts 96 pixels high or more at a width of 600, without a part cut off', async () => {
    const { page, said, show } = await openView(started(), { width: 600 });
    await show(blockData());
    await page.getByRole('button', { name: 'Large' }).click();
    expect((await said()).at(-1)).toEqual({ type: 'large', large: true });
    await show(blockData({ large: true, attempts: attemptsOf('lm'.repeat(60), 2) }));
    for (const id of ['left', 'attempts', 'landed-count']) {
      const size = await page.locator(`#${id}`).evaluate((node) => ({
        font: parseFloat(getComputedStyle(node).fontSize),
        over: node.scrollWidth - node.clientWidth,
      }));
      expect(size.font, id).toBeGreaterThanOrEqual(96);
      expect(size.over, id).toBeLessThanOrEqual(0);
    }
    expect(await page.getByRole('button', { name: 'Large' }).getAttribute('aria-pressed')).toBe('true');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(600);
    await show(blockData({ large: true, phase: 'rest', restEnds: Date.now() + 300_000 }));
    const clock = page.locator('#rest-clock');
    expect(
      await clock.evaluate((node) => parseFloat(getComputedStyle(node).fontSize)),
    ).toBeGreaterThanOrEqual(96);
    await page.close();
  });

  it.each([false, true])(
    'moves nothing while attempts are counted and the focus comes and goes (large: %s)',
    async (large) => {
      const { page, show } = await openView(started(), { width: 600 });
      await show(blockData({ large }));
      // What is painted first is no shift.
      await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 300)));
      await page.evaluate(() => {
        const moved: number[] = [];
        Object.assign(window, { moved });
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries())
            moved.push((entry as PerformanceEntry & { value: number }).value);
        }).observe({ type: 'layout-shift', buffered: false });
      });
      const attempts = attemptsOf('lmmlmllm', 6);
      for (let count = 1; count <= attempts.length; count += 1) {
        await show(
          blockData({
            large,
            attempts: attempts.slice(0, count),
            said: count % 2 === 0 ? 'Taken back.' : '',
          }),
        );
        await page.evaluate(
          (has) => {
            Object.defineProperty(document, 'hasFocus', { value: () => has, configurable: true });
            window.dispatchEvent(new Event(has ? 'focus' : 'blur'));
          },
          count % 3 === 0,
        );
      }
      await show(blockData({ large, attempts, phase: 'up', said: 'Time is up.' }));
      await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 200)));
      expect(await page.evaluate(() => (window as unknown as { moved: number[] }).moved)).toEqual([]);
      await page.close();
    },
  );
});
