import type { Locator } from 'playwright-core';
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
    // The word alone tells the two clocks apart; no sentence says the number once more.
    expect(await page.getByRole('heading', { level: 2 }).innerText()).toBe('Rest');
    expect(await page.locator('#rest-clock').innerText()).toMatch(/^(5:00|4:59)$/);
    expect(await page.locator('#rest-text').innerText()).toBe('Nothing is counted now.');
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

  it('shows them larger than the rest in a column of 300 pixels, without a part cut off', async () => {
    const { page, show } = await openView(started(), { width: 300 });
    await show(blockData({ attempts: attemptsOf('lm'.repeat(600), 1) }));
    for (const [id, least] of [
      ['left', 48],
      ['attempts', 40],
      ['landed-count', 40],
    ] as const) {
      const size = await page.locator(`#${id}`).evaluate((node) => ({
        font: parseFloat(getComputedStyle(node).fontSize),
        over: node.scrollWidth - node.clientWidth,
      }));
      expect(size.font, id).toBeGreaterThanOrEqual(least);
      expect(size.over, id).toBeLessThanOrEqual(0);
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(300);
    await page.close();
  });

  it('shows them as high in a column of 600 pixels without being asked to', async () => {
    const { page, show } = await openView(started(), { width: 600 });
    await show(blockData({ attempts: attemptsOf('lm'.repeat(60), 2) }));
    const sizeOf = (id: string): Promise<number> =>
      page.locator(`#${id}`).evaluate((node) => parseFloat(getComputedStyle(node).fontSize));
    for (const id of ['left', 'attempts', 'landed-count'])
      expect(await sizeOf(id), id).toBeGreaterThanOrEqual(96);
    await show(blockData({ phase: 'rest', restEnds: Date.now() + 300_000 }));
    expect(await sizeOf('rest-clock')).toBeGreaterThanOrEqual(96);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(600);
    await page.close();
  });
});

/** Records what the browser calls a shift of the layout, from here on. */
async function watchShifts({ page }: OpenView): Promise<() => Promise<string[]>> {
  await page.evaluate(() => {
    const moved: string[] = [];
    Object.assign(window, { moved });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) {
        const { value, sources } = entry as PerformanceEntry & {
          value: number;
          sources: { node: Element | null }[];
        };
        moved.push(`${value}: ${sources.map(({ node }) => node?.id ?? node?.nodeName).join(', ')}`);
      }
    }).observe({ type: 'layout-shift', buffered: true });
  });
  return async () => {
    // A frame is drawn, and its entries are delivered, within two frames and a turn.
    await page.evaluate(
      () =>
        new Promise((resolve) =>
          requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve, 50))),
        ),
    );
    return page.evaluate(() => (window as unknown as { moved: string[] }).moved);
  };
}

describe('the layout', () => {
  it('is watched in a way that sees a shift', async () => {
    const view = await open();
    const shifts = await watchShifts(view);
    await view.page.locator('#board').evaluate((board) => {
      const grown = document.createElement('p');
      grown.textContent = 'A line that pushes all others down.';
      board.before(grown);
    });
    expect(await shifts()).not.toEqual([]);
    await view.page.close();
  });

  it.each([
    [600, 800, false],
    [600, 800, true],
    [320, 800, false],
    [320, 800, true],
    [640, 400, false],
    [640, 400, true],
    [335, 548, false],
    [300, 400, false],
  ])(
    'moves nothing from the start over marks, pause and minutes to the rest (%i × %i, large: %s)',
    async (width, height, large) => {
      const view = await openView(started(), { width, height });
      const { page } = view;
      const shifts = await watchShifts(view);
      const now = Date.now();
      const began = now + 2000;
      let last = blockData({
        large,
        phase: 'ready',
        now,
        began,
        ends: began + 1_500_000,
        caution: 'Rest now and then.',
      });
      const show = async (over: Partial<typeof last>): Promise<void> => {
        last = { ...last, ...over };
        await view.show(last);
        expect(await shifts(), JSON.stringify(over)).toEqual([]);
      };
      await show({ notes: 'Left of the crates.\nJump late.', links: ['https://example.org/vault'] });
      await show({ phase: 'block', began: now - 60_000, ends: now + 1_440_000 });
      const attempts = attemptsOf('lmmlmllm', 6);
      for (let count = 1; count <= attempts.length; count += 1) {
        await page.evaluate(
          (has) => {
            Object.defineProperty(document, 'hasFocus', { value: () => has, configurable: true });
            window.dispatchEvent(new Event(has ? 'focus' : 'blur'));
          },
          count % 3 === 0,
        );
        await show({ attempts: attempts.slice(0, count), said: count % 2 === 0 ? 'Taken back.' : '' });
      }
      await show({
        slow: { cycle: 9.5, text: 'The last 9 attempts came some 9.5 s apart; the route says 5 s.' },
      });
      await show({ phase: 'paused', pausedAt: Date.now(), said: 'Paused: nothing counts now.' });
      await show({ phase: 'block', pausedAt: null, said: '' });
      await show({ ends: last.ends - 300_000 });
      await show({ ends: last.ends + 300_000 });
      await show({
        ends: Date.now(),
        phase: 'up',
        timeUp: true,
        said: 'Time is up. The attempt under way still counts.',
      });
      await show({ ends: last.ends + 300_000, phase: 'block', timeUp: false, said: '' });
      await show({ phase: 'count', attempts: [], slow: null });
      await show({
        phase: 'rest',
        restEnds: Date.now() + 300_000,
        attempts,
        said: '18 min of Crate vault: 4 of 8 landed.',
        unsaved: true,
        planning: true,
      });
      await show({
        planning: false,
        after: { usual: '44 %', standing: 'in the run' },
        next: { technique: 'net-climb', name: 'Net climb', minutes: 20, from: 'net lofts, at the winch' },
      });
      await show({ unsaved: false });
      await show({ phase: 'rested' });
      await show({ ...blockData({ large }), name: 'Net climb', from: 'net lofts, at the winch' });
      await page.close();
    },
  );
});

describe('what is known of the technique', () => {
  it('stands below a block: notes without their marks, links of the web only, the usual rate', async () => {
    const { page, show } = await open(
      blockData({
        notes: 'Left of **the** crates.\n<b>Jump</b> *late*.',
        links: ['https://example.org/vault', 'javascript:alert(1)'],
      }),
    );
    expect(await page.locator('#usual').innerText()).toBe('41 %');
    expect(await page.getByRole('region', { name: 'Your notes' }).locator('h2').isVisible()).toBe(true);
    expect(await page.locator('#notes').innerText()).toBe('Left of the crates.\n<b>Jump</b> late.');
    expect(await page.locator('#notes :is(strong, em)').allInnerTexts()).toEqual(['the', 'late']);
    expect(await page.locator('#notes b').count()).toBe(0);
    expect(await page.locator('#links li').allInnerTexts()).toEqual([
      'https://example.org/vault',
      'javascript:alert(1)',
    ]);
    expect(
      await page.locator('#links a').evaluateAll((links) => links.map((one) => one.getAttribute('href'))),
    ).toEqual(['https://example.org/vault']);
    await show(blockData());
    expect(await page.locator('#about').isVisible()).toBe(false);
    await page.close();
  });

  it('stands at the rest as it was and as it is, once that is worked out', async () => {
    const attempts = attemptsOf('lmllm', 5);
    const rest = { phase: 'rest', restEnds: Date.now() + 300_000, attempts } as const;
    const { page, show } = await open(blockData({ ...rest, planning: true }));
    expect(await page.locator('#result-now').innerText()).toBe('soon');
    await show(blockData({ ...rest, after: { usual: '44 %', standing: 'in the run' } }));
    expect(await page.locator('#result-usual').innerText()).toBe('41 %');
    expect(await page.locator('#result-now').innerText()).toBe('44 %');
    expect(await page.locator('#result-standing').innerText()).toBe(
      'in the run; before the block: being learned',
    );
    await show(blockData({ ...rest, after: { usual: '44 %', standing: 'being learned' } }));
    expect(await page.locator('#result-standing').innerText()).toBe('being learned');
    await page.close();
  });
});

describe('minutes', () => {
  it('can be taken away while a block runs, and given back once its time is up, also where nothing was counted', async () => {
    const { page, said, show } = await open();
    const [less, more] = ['5 Min Less', '5 Min More'].map((name) => page.getByRole('button', { name })) as [
      Locator,
      Locator,
    ];
    const seen = async (): Promise<boolean[]> => [await less.isVisible(), await more.isVisible()];
    expect(await seen()).toEqual([true, true]);
    await show(blockData({ phase: 'up', timeUp: true, attempts: attemptsOf('l', 5) }));
    expect(await seen()).toEqual([false, true]);
    await show(blockData({ phase: 'count', timeUp: true }));
    expect(await seen()).toEqual([false, true]);
    await more.click();
    expect((await said()).at(-1)).toEqual({ type: 'more' });
    for (const phase of ['paused', 'count', 'rest'] as const) {
      await show(blockData({ phase, restEnds: Date.now() + 60_000 }));
      expect(await seen(), phase).toEqual([false, false]);
    }
    await page.close();
  });
});

/** Writes down the tones that the page plays, and whether the browser lets them be heard. */
async function hear({ page }: OpenView): Promise<() => Promise<string[]>> {
  await page.evaluate(() => {
    const heard: string[] = [];
    Object.assign(window, { tones: heard });
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (this: OscillatorNode, when?: number) {
      heard.push(this.context.state);
      start.call(this, when);
    };
  });
  const tones = (): Promise<string[]> =>
    page.evaluate(() => (window as unknown as { tones: string[] }).tones);
  return async () => {
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 200)));
    return tones();
  };
}

describe('the sound at the end of a block', () => {
  const up = { phase: 'up', timeUp: true, attempts: attemptsOf('l', 5) } as const;

  it('is two tones as the time gets up, once, where the person has switched it on', async () => {
    const view = await open(blockData({ sound: true }));
    const tones = await hear(view);
    await view.page.keyboard.press('l');
    await view.show(blockData({ sound: true, attempts: attemptsOf('l', 5) }));
    expect(await tones()).toEqual([]);
    await view.show(blockData({ ...up, sound: true }));
    await expect.poll(tones).toEqual(['running', 'running']);
    await view.show(blockData({ ...up, sound: true, said: 'Taken back.' }));
    expect(await tones()).toHaveLength(2);
    expect(view.complaints).toEqual([]);
    await view.page.close();
  });

  it('is not there otherwise, nor for a block that was over before the page was loaded', async () => {
    const view = await open();
    const tones = await hear(view);
    await view.page.keyboard.press('l');
    await view.show(blockData(up));
    expect(await tones()).toEqual([]);
    const late = await openView(started());
    const lateTones = await hear(late);
    await late.show(blockData({ ...up, sound: true }));
    expect(await lateTones()).toEqual([]);
    for (const { page } of [view, late]) await page.close();
  });
});
