import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { panelViews } from '../../server/src/protocol/panel/views.ts';
import { answer, bundlePanel, openPanel, startBeforeTests } from './page.ts';

const started = startBeforeTests(bundlePanel);

/** How far the focus lies behind the head, in pixels; 0 where it does not. */
const behindHead = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const head = document.querySelector('.head')!.getBoundingClientRect();
    const focused = document.activeElement!;
    if (focused.closest('.head') || focused.id === 'view' || focused === document.body) return 0;
    const { top, bottom } = focused.getBoundingClientRect();
    return top < head.bottom && bottom > head.top ? head.bottom - top : 0;
  });

/** The words that are seen on the page, each as often as it is there. */
const seenWords = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const words: string[] = [];
    const walker = document.createTreeWalker(document.querySelector('#view')!, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement!;
      if (
        parent.closest('svg, option') ||
        !parent.checkVisibility() ||
        getComputedStyle(parent).fontSize === '0px'
      )
        continue;
      words.push(...(node.textContent ?? '').split(/\s+/).filter((word) => word !== ''));
    }
    return words.sort();
  });

async function openUp(page: Page): Promise<void> {
  for (const summary of await page.locator('summary:visible').all()) await summary.click();
}

describe('the focus', () => {
  it.each([
    [640, 500],
    [400, 500],
    [300, 400],
    // Half of a window at 200 %.
    [320, 300],
  ])('is never behind the head of a page of %i by %i pixels', async (width, height) => {
    const { page, choose } = await openPanel(started(), { width, height });
    for (const view of ['week', 'ranking'] as const) {
      await choose(view);
      await openUp(page);
      await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
      await page.locator('#view button:visible').last().focus();
      for (let step = 0; step < 30; step++) {
        await page.keyboard.press('Shift+Tab');
        expect(await behindHead(page), `${view} ${step}`).toBe(0);
      }
    }
    await page.close();
  });

  it('is not behind it either while a text cannot be read, and the head leaves two thirds of the window', async () => {
    const { page, choose, show } = await openPanel(started(), { width: 400, height: 480 });
    await choose('week');
    const range = { start: { line: 4, character: 0 }, end: { line: 4, character: 0 } };
    const place = { uri: answer('week').routeUri, range };
    const text = 'Line 5 of lanternfall.route.yaml cannot be read: A quote is opened here and not closed.';
    await show({ ...answer('week'), week: null, broken: { text, way: 'Go to line 5', place } });
    await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
    const seen = await page.evaluate(() => {
      const { bottom } = document.querySelector('.head')!.getBoundingClientRect();
      return 1 - Math.max(0, bottom) / window.innerHeight;
    });
    expect(seen).toBeGreaterThanOrEqual(2 / 3);
    await page.locator('.calendar').focus();
    for (let step = 0; step < 12; step++) {
      await page.keyboard.press('Shift+Tab');
      expect(await behindHead(page), String(step)).toBe(0);
    }
    await page.close();
  });
});

describe('a narrow page', () => {
  it.each([220, 320])('of %i pixels has every word of a wide one', async (width) => {
    const wide = await openPanel(started(), { width: 1000 });
    const narrow = await openPanel(started(), { width });
    for (const view of panelViews) {
      const words: string[][] = [];
      for (const { page, choose } of [wide, narrow]) {
        await choose(view);
        await openUp(page);
        words.push(await seenWords(page));
      }
      // A column of places from 1 on needs no heading to be understood; a screen reader has it.
      const missing = words[0]!.filter((word) => !words[1]!.includes(word) && word !== 'Place');
      expect(missing, view).toEqual([]);
    }
    await wide.page.close();
    await narrow.page.close();
  });

  it.each([220, 320])('of %i pixels cuts off no text', async (width) => {
    const { page, choose, tell } = await openPanel(started(), { width });
    for (const view of panelViews) {
      await choose(view);
      await openUp(page);
      await tell({ type: 'said', text: 'Pinned in lanternfall.week.yaml. Undo takes it back.' });
      await page.getByText('Undo takes it back.').waitFor();
      const cut = await page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>('#panel *')]
          .filter((node) => {
            const { overflowX } = getComputedStyle(node);
            return overflowX === 'hidden' && node.scrollWidth > node.clientWidth + 1;
          })
          .map((node) => node.className),
      );
      expect(cut, view).toEqual([]);
    }
    await page.close();
  });
});

describe('facts', () => {
  it.each([1000, 480, 340])('are in columns that begin at the same places, %i pixels wide', async (width) => {
    const { page, choose } = await openPanel(started(), { width });
    for (const view of ['curve', 'odds', 'week', 'ranking'] as const) {
      await choose(view);
      if (view === 'ranking') await page.locator('.opener').first().click();
      const lists = await page.locator('.facts:visible').evaluateAll((all) =>
        all.map((list) => {
          const columns = new Map<number, Set<number>>();
          for (const fact of list.querySelectorAll('.fact')) {
            const column = Math.round(fact.getBoundingClientRect().left);
            const text = Math.round(fact.querySelector('.text')!.getBoundingClientRect().left);
            columns.set(column, (columns.get(column) ?? new Set<number>()).add(text));
          }
          return [...columns.values()].map((texts) => texts.size);
        }),
      );
      expect(lists.flat().length, view).toBeGreaterThan(0);
      expect(new Set(lists.flat()), view).toEqual(new Set([1]));
    }
    await page.close();
  });
});

describe('a date in a sentence', () => {
  it('stays in one line in a narrow panel', async () => {
    const { page, choose } = await openPanel(started(), { width: 300, height: 800 });
    let dates = 0;
    for (const view of panelViews) {
      await choose(view);
      await openUp(page);
      const shown = await page.evaluate(() =>
        [...document.querySelectorAll('#view .date')]
          .filter((date) => date.checkVisibility())
          .map((date) => [date.textContent ?? '', date.getClientRects().length] as const),
      );
      dates += shown.length;
      for (const [text, lines] of shown) {
        expect(text).toMatch(/^\d{4}-\d\d-\d\d$/);
        expect(lines, `${view}: ${text}`).toBe(1);
      }
    }
    expect(dates).toBeGreaterThan(3);
    await page.close();
  });
});
