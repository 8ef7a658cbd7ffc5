import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { startBeforeTests } from '../panel/page.ts';
import { themes } from './page.ts';
import { bundleRun, draftOf, form, openRunForm } from './runForm.ts';

const started = startBeforeTests(bundleRun);

/** Where the field that has the focus is, with the outline around it, and where the foot begins. */
const places = (page: Page) =>
  page.evaluate(() => {
    const field = document.activeElement!;
    const { top, bottom } = field.getBoundingClientRect();
    const foot = document.getElementById('foot')!;
    const sticks = getComputedStyle(foot).position === 'sticky';
    return {
      id: field.id,
      inFoot: foot.contains(field) || field === document.body,
      top: top - 3,
      bottom: bottom + 3,
      foot: sticks ? foot.getBoundingClientRect().top : innerHeight,
    };
  });

describe('a field that has the focus', () => {
  it.each([
    [640, 400],
    [335, 548],
    [300, 400],
    [300, 260],
  ])('is whole above the foot, whichever way the keyboard led to it (%i × %i)', async (width, height) => {
    const { page } = await openRunForm(started(), draftOf({ outcome: 'miss', endedAt: 'oil-cellars' }), {
      width,
      height,
    });
    const seen = new Set<string>();
    for (const [key, times] of [
      ['Tab', 30],
      ['Shift+Tab', 30],
    ] as const) {
      for (let at = 0; at < times; at += 1) {
        const { id, inFoot, top, bottom, foot } = await places(page);
        if (!inFoot) {
          seen.add(id);
          expect(bottom, `${key} to ${id}`).toBeLessThanOrEqual(foot);
          expect(top, `${key} to ${id}`).toBeGreaterThanOrEqual(0);
        }
        await page.keyboard.press(key);
      }
    }
    for (const id of ['kind-run', 'outcome', 'ended-at', 'time-0', 'time-2', 'tried-4', 'began', 'on'])
      expect([...seen]).toContain(id);
    await page.close();
  });

  it('stays above the foot where that grows by what is typed', async () => {
    const { page } = await openRunForm(started(), null, { width: 480, height: 400 });
    const footHeight = (): Promise<number> => page.locator('#foot').evaluate((foot) => foot.clientHeight);
    await page.locator('#time-3').focus();
    const before = await footHeight();
    // The last field that is whole above the foot.
    await page.evaluate(() => {
      const field = document.getElementById('time-3')!.getBoundingClientRect();
      scrollBy(0, field.bottom - document.getElementById('foot')!.getBoundingClientRect().top + 4);
    });
    await page.keyboard.type('1:55');
    expect(await footHeight()).toBeGreaterThan(before);
    await expect
      .poll(async () => {
        const { id, bottom, foot } = await places(page);
        return id === 'time-3' && bottom <= foot;
      })
      .toBe(true);
    await page.close();
  });
});

/** The mean of red, green and blue in the middle of an element, from 0 to 255. */
async function brightness(page: Page, element: Locator): Promise<number> {
  const picture = (await element.screenshot()).toString('base64');
  return page.evaluate(async (encoded) => {
    const bytes = Uint8Array.from(atob(encoded), (letter) => letter.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d')!;
    canvas.drawImage(bitmap, 0, 0);
    const { data } = canvas.getImageData(bitmap.width >> 1, bitmap.height >> 1, 1, 1);
    return ((data[0] ?? 0) + (data[1] ?? 0) + (data[2] ?? 0)) / 3;
  }, picture);
}

describe.each(themes)('boxes in the theme %s', (theme) => {
  it('are as dark or as light as the page, in its colour, and one that cannot be ticked is no box to tick', async () => {
    const { page } = await openRunForm(started(), null, { theme });
    const isDark = theme === 'dark' || theme === 'high-contrast';
    const untried = page.getByRole('checkbox', { name: 'Awning bounce: tried' });
    const disabled = page.getByRole('checkbox', { name: 'Awning bounce: landed' });
    for (const empty of [untried, page.getByLabel('Several runs, summed up')]) {
      const bright = await brightness(page, empty);
      if (isDark) expect(bright).toBeLessThan(90);
      else expect(bright).toBeGreaterThan(200);
    }
    const style = (box: Locator) =>
      box.evaluate((node) => {
        const { accentColor, colorScheme, appearance, borderTopStyle } = getComputedStyle(node);
        return { accentColor, colorScheme, appearance, borderTopStyle };
      });
    const accent = await page.locator('#save').evaluate((button) => getComputedStyle(button).backgroundColor);
    const { accentColor, colorScheme, appearance } = await style(untried);
    expect(colorScheme).toBe(isDark ? 'dark' : 'light');
    // Black on black has no colour of its own to give: there the browser chooses.
    expect(accentColor).toBe(theme === 'high-contrast' ? 'auto' : accent);
    expect(appearance).toBe('auto');
    expect(await style(disabled)).toMatchObject({ appearance: 'none', borderTopStyle: 'dashed' });
    const ground = await brightness(
      page,
      page.locator('#uses-hint + .fields').locator('..').locator('h2').first(),
    );
    expect(Math.abs((await brightness(page, disabled)) - ground)).toBeLessThan(4);
    await page.close();
  });
});

it('leaves a gap between the sentence on techniques and its buttons', async () => {
  const { page } = await openRunForm(started(), null, {}, form);
  const [hint, button] = await Promise.all(
    ['#uses-hint', '#none-tried'].map((id) => page.locator(id).boundingBox()),
  );
  expect(button!.y - (hint!.y + hint!.height)).toBeGreaterThanOrEqual(8);
  await page.close();
});
