import { describe, expect, it } from 'vitest';
import type { PanelData } from '../../server/src/protocol/panel/panelData.ts';
import { panelViews } from '../../server/src/protocol/panel/views.ts';
import { answer, bundlePanel, holdDelays, openPanel, startBeforeTests, withPlainSpaces } from './page.ts';

const started = startBeforeTests(bundlePanel);

/** The ranking with its last row first, as after an edit. */
function turned(): PanelData {
  const data = answer('ranking');
  const ranking = data.ranking!;
  const rows = [...ranking.rows];
  rows.unshift(...rows.splice(-1));
  return { ...data, ranking: { ...ranking, rows: rows.map((row, i) => ({ ...row, place: i + 1 })) } };
}

describe('by keyboard alone', () => {
  it('goes from tab to tab with the arrow keys, and from there into the view', async () => {
    const { page, said, show } = await openPanel(started());
    await page.getByRole('tab', { name: 'Week' }).focus();
    await page.keyboard.press('ArrowRight');
    const tab = page.getByRole('tab', { name: 'Ranking' });
    expect(await tab.getAttribute('aria-selected')).toBe('true');
    expect(await tab.evaluate((node) => node === document.activeElement)).toBe(true);
    expect(await page.locator('.tab[tabindex="0"]').count()).toBe(1);
    expect((await said()).at(-1)).toEqual({
      type: 'look',
      view: 'ranking',
      technique: null,
      objective: 'time',
    });
    await page.keyboard.press('End');
    expect((await said()).at(-1)).toMatchObject({ view: panelViews.at(-1) });
    await page.keyboard.press('ArrowRight');
    expect((await said()).at(-1)).toMatchObject({ view: 'week' });
    await page.keyboard.press('ArrowRight');
    await show(answer('ranking'));
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('view');
    await page.close();
  });

  it('saves the week as a calendar', async () => {
    const { page, said, show } = await openPanel(started());
    await show(answer('week'));
    await page.getByRole('button', { name: 'Save as a Calendar…' }).press('Enter');
    expect((await said()).at(-1)).toEqual({ type: 'calendar' });
    await page.close();
  });

  it('goes from row to row, opens one and acts on it', async () => {
    const { page, said, choose } = await openPanel(started());
    await choose('ranking');
    const [first, second] = answer('ranking').ranking!.rows;
    await page.locator('.opener').first().focus();
    await page.keyboard.press('ArrowDown');
    const focused = (): Promise<string> => page.evaluate(() => document.activeElement?.textContent ?? '');
    expect(await focused()).toBe(second!.name);
    await page.keyboard.press('Home');
    expect(await focused()).toBe(first!.name);
    await page.keyboard.press('Enter');
    expect(await page.locator('.opener').first().getAttribute('aria-expanded')).toBe('true');
    const reason = await page.locator('.detail:visible .reason').innerText();
    expect(withPlainSpaces(reason)).toBe(first!.reason);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      `${first!.pinned ? 'Unpin' : 'Pin'} ${first!.name}`,
    );
    await page.keyboard.press('Enter');
    expect((await said()).at(-1)).toEqual({
      type: 'change',
      change: first!.pinned ? 'unpin' : 'pin',
      technique: first!.technique,
    });
    await page.close();
  });

  it('takes up a technique that is not being learned', async () => {
    const { page, said, choose } = await openPanel(started());
    await choose('ranking');
    const { rows } = answer('ranking').ranking!;
    const index = rows.findIndex(({ standing }) => standing !== 'learning');
    const { name, technique } = rows[index]!;
    await page.locator('.opener').nth(index).click();
    await page.getByLabel(`Take up ${name}`, { exact: true }).click();
    expect((await said()).at(-1)).toEqual({ type: 'change', change: 'learning', technique });
    await page.close();
  });
});

describe('what the ranking is by', () => {
  it('is chosen in the view, asked for, and kept', async () => {
    const { page, said, show, choose } = await openPanel(started());
    await choose('ranking');
    const list = page.getByRole('combobox', { name: 'Ranked by' });
    await list.selectOption({ label: 'chance of beating 41:30' });
    expect((await said()).at(-1)).toMatchObject({ type: 'look', view: 'ranking', objective: 'target' });
    const data = answer('ranking');
    const targetText = 'Ranked by the chance of beating 41:30 in an hour of runs, 19 % now.';
    await show({ ...data, ranking: { ...data.ranking!, targetText } });
    expect(await list.inputValue()).toBe('target');
    expect(await page.locator('.target-text').innerText()).toBe(targetText);
    await page.reload();
    await page.locator('.tab').first().waitFor();
    expect((await said())[0]).toMatchObject({ type: 'ready', stored: { objective: 'target' } });
    await page.close();
  });

  it('is no question without a target', async () => {
    const { page, show, choose } = await openPanel(started());
    await choose('ranking');
    const data = answer('ranking');
    const objectives = data.ranking!.objectives.slice(0, 1);
    await show({ ...data, ranking: { ...data.ranking!, objectives } });
    expect(await page.getByRole('combobox', { name: 'Ranked by' }).isVisible()).toBe(false);
    await page.close();
  });
});

it('shows another run that is chosen, and keeps it over a reload', async () => {
  const { page, said, choose } = await openPanel(started());
  await choose('after');
  const [first] = answer('after').after!.runs;
  await page.getByRole('combobox', { name: 'Run' }).selectOption(first!.run);
  expect((await said()).at(-1)).toMatchObject({ type: 'look', view: 'after', run: first!.run });
  await page.reload();
  await page.locator('.tab').first().waitFor();
  expect((await said())[0]).toMatchObject({ type: 'ready', stored: { view: 'after', run: first!.run } });
  await page.close();
});

describe('new numbers while somebody reads', () => {
  it('keep the elements, the focus, the open row and the place on the page', async () => {
    const { page, show, choose } = await openPanel(started(), { width: 400, height: 400 });
    await choose('ranking');
    const [first] = answer('ranking').ranking!.rows;
    const opener = page.locator(`[data-key="${first!.technique}"] .opener`);
    await opener.click();
    await page.evaluate(() => window.scrollTo(0, 120));
    // Under the pointer no row would change its place.
    await page.mouse.move(2, 2);
    await opener.evaluate((node) => {
      (window as unknown as { kept: Element }).kept = node;
    });
    await show(turned());
    const after = await page.evaluate(() => ({
      same: (window as unknown as { kept: Element }).kept === document.activeElement,
      scroll: window.scrollY,
    }));
    expect(after).toEqual({ same: true, scroll: 120 });
    expect(await opener.getAttribute('aria-expanded')).toBe('true');
    const names = await page.locator('.opener').allInnerTexts();
    expect(names).toEqual(turned().ranking!.rows.map(({ name }) => name));
    await page.close();
  });

  it('change nothing on the page where they are the same', async () => {
    const { page, show, choose } = await openPanel(started());
    for (const view of panelViews) {
      await choose(view);
      await page.evaluate(() => {
        const counted = window as unknown as { changes: number };
        counted.changes = 0;
        const observer = new MutationObserver((records) => (counted.changes += records.length));
        observer.observe(document.body, { childList: true, characterData: true, subtree: true });
      });
      await show(answer(view));
      expect(await page.evaluate(() => (window as unknown as { changes: number }).changes), view).toBe(0);
    }
    await page.close();
  });

  it('are announced only where they take long, with the old ones still there', async () => {
    const { page, show, choose } = await openPanel(started());
    await choose('odds');
    const status = page.getByRole('status');
    const pending = 'Working out the odds of the run';
    const letTimePass = await holdDelays(page);
    await show({ ...answer('odds'), pending });
    expect(await status.innerText()).toBe('');
    await letTimePass();
    await page.getByText(`${pending}…`).waitFor();
    expect(await page.locator('figure.final-times').isVisible()).toBe(true);
    expect(await page.locator('#view').getAttribute('aria-busy')).toBe('true');
    await show(answer('odds'));
    expect(await status.innerText()).toBe('');
    await page.close();
  });
});

describe('what is kept', () => {
  it('brings the same view, technique and place back after a reload', async () => {
    const { page, said, show, choose } = await openPanel(started(), { width: 400, height: 400 });
    await choose('curve');
    await page.evaluate(() => window.scrollTo(0, 90));
    // The panel stores the place when the scrolling has ended, on a busy machine later than on another.
    const stored = () => page.evaluate(() => sessionStorage.getItem('state'));
    await expect.poll(stored).toContain('"scroll":90');
    await page.reload();
    await page.locator('.tab').first().waitFor();
    const [ready] = await said();
    expect(ready).toMatchObject({
      type: 'ready',
      stored: { view: 'curve', technique: 'lamp-clip', uri: answer('curve').uri },
    });
    expect(await page.getByRole('tab', { name: 'Curve' }).getAttribute('aria-selected')).toBe('true');
    await show(answer('curve'));
    await expect.poll(() => page.evaluate(() => window.scrollY)).toBe(90);
    await page.close();
  });

  it.each([['another version'], ['a view that is not known'], ['nonsense']])(
    'is left unread: %s',
    async (kind) => {
      const { page, said } = await openPanel(started());
      const state = {
        'another version': { version: 99, uri: 'file:///a', view: 'odds', technique: null, scroll: 0 },
        'a view that is not known': {
          version: 1,
          uri: 'file:///a',
          view: 'deck',
          technique: null,
          scroll: 0,
        },
        nonsense: 'x',
      }[kind];
      await page.evaluate((value) => sessionStorage.setItem('state', JSON.stringify(value)), state);
      await page.reload();
      await page.locator('.tab').first().waitFor();
      expect((await said())[0]).toEqual({ type: 'ready', stored: null });
      await page.close();
    },
  );
});

describe('a route that means harm', () => {
  const evil = `<img src=x onerror="window.hurt=1"><script>window.hurt=1</script>'"&`;
  const poisoned = (view: (typeof panelViews)[number]): PanelData => {
    const bad = (key: string, value: unknown): unknown =>
      ['name', 'reason', 'route', 'label', 'text', 'summary', 'forecastText', 'runnerText'].includes(key)
        ? evil
        : key === 'notes'
          ? [evil]
          : value;
    return JSON.parse(JSON.stringify(answer(view), bad)) as PanelData;
  };

  it.each(panelViews)('has its names shown as text in the %s view, and runs nothing', async (view) => {
    const panel = await openPanel(started());
    await panel.choose(view);
    await panel.show(poisoned(view));
    const { page } = panel;
    if (view === 'ranking') await page.locator('.opener').first().click();
    expect(await page.locator('h1').innerText()).toContain('<img src=x');
    await page.waitForTimeout(100);
    const found = await page.evaluate(() => ({
      hurt: (window as unknown as { hurt?: number }).hurt,
      images: document.querySelectorAll('img, iframe, object, #panel script').length,
      styled: document.querySelectorAll('body [style]').length,
      handlers: document.querySelectorAll('[onerror], [onclick], [onload]').length,
    }));
    expect(found).toEqual({ hurt: undefined, images: 0, styled: 0, handlers: 0 });
    expect(panel.complaints).toEqual([]);
    expect(panel.requests.filter((url) => !url.startsWith('http://panel.test/'))).toEqual([]);
    expect(panel.requests.length).toBe(3);
    await page.close();
  });

  it('cannot make the page obey what its policy forbids', async () => {
    const { page, complaints } = await openPanel(started());
    await page.evaluate(() => {
      const image = document.createElement('img');
      image.setAttribute('onerror', 'window.hurt = 1');
      image.src = 'http://elsewhere.test/x.png';
      const script = document.createElement('script');
      script.textContent = 'window.hurt = 1';
      document.body.append(image, script);
    });
    await page.waitForTimeout(100);
    expect(await page.evaluate(() => (window as unknown as { hurt?: number }).hurt)).toBeUndefined();
    expect(complaints.length).toBeGreaterThan(0);
    await page.close();
  });

  it('is not heard where a message is out of order', async () => {
    const { page, tell, choose } = await openPanel(started());
    await choose('odds');
    const before = await page.locator('#panel').innerHTML();
    const data = answer('odds');
    for (const message of [
      null,
      'show',
      { type: 'show' },
      { type: 'show', data: { ...data, version: 2 } },
      { type: 'show', data: { ...data, odds: { ...data.odds, bins: 'many' } } },
      { type: 'said', text: 7 },
    ]) {
      await tell(message);
    }
    await page.waitForTimeout(50);
    expect(await page.locator('#panel').innerHTML()).toBe(before);
    await page.close();
  });
});

it('moves nothing for people who asked for less motion', async () => {
  const { page, choose } = await openPanel(started(), { reducedMotion: true });
  for (const view of panelViews) {
    await choose(view);
    expect(await page.evaluate(() => document.getAnimations().length), view).toBe(0);
  }
  await page.close();
});

it('is small: under 150 KB as it is sent', async () => {
  const { gzipSync } = await import('node:zlib');
  const { script, style } = started().bundled;
  expect(gzipSync(script).length + gzipSync(style).length).toBeLessThan(150 * 1024);
});

it('indents the rows of a package, and no name of the practice set', async () => {
  const { page, choose } = await openPanel(started());
  const indents = (names: string): Promise<number[]> =>
    page
      .locator(names)
      .evaluateAll((nodes) => nodes.map((node) => parseFloat(getComputedStyle(node).paddingLeft)));
  await choose('ranking');
  const { rows } = answer('ranking').ranking!;
  const indented = (await indents('.line .name')).map((indent) => indent > 10);
  expect(indented).toEqual(rows.map(({ inPackage }) => inPackage));
  expect(new Set(indented).size).toBe(2);
  await choose('week');
  const { set } = answer('week').week!;
  expect(await indents('.set li .name')).toEqual(set.map(() => 0));
  await page.close();
});

describe('where a technique stands', () => {
  it('is in words in every row of the ranking, and the practice set is marked in words', async () => {
    const { page, choose, show } = await openPanel(started());
    await choose('ranking');
    const data = answer('ranking');
    const { rows, skipped, setMark } = data.ranking!;
    const tags = (row: string): Promise<string[][]> =>
      page
        .locator(row)
        .evaluateAll((nodes) =>
          nodes.map((node) =>
            [...node.querySelectorAll<HTMLElement>('.tag, .set-mark')]
              .filter((tag) => tag.checkVisibility())
              .map((tag) => tag.textContent ?? ''),
          ),
        );
    const wanted = ({ standingText, inSet }: (typeof skipped)[number]): string[] => [
      standingText,
      ...(inSet ? [setMark] : []),
    ];
    expect(await tags('.ranked')).toEqual(rows.map(wanted));
    expect(new Set(rows.map(({ standing }) => standing)).size).toBeGreaterThan(3);
    await page.locator('.skipped summary').click();
    expect(await tags('.skip')).toEqual(skipped.map(wanted));
    // A standing that changes changes its row alone.
    const [first] = rows;
    const again = { ...first!, standing: 'again', standingText: 'to work on again', inSet: true } as const;
    await show({ ...data, ranking: { ...data.ranking!, rows: [again, ...rows.slice(1)] } });
    expect((await tags('.ranked'))[0]).toEqual(['to work on again', setMark]);
    await page.close();
  });

  it('is in words in the week and above a curve', async () => {
    const { page, choose } = await openPanel(started());
    await choose('week');
    const texts = await page.locator('.set-member .tag').allTextContents();
    expect(texts).toEqual(answer('week').week!.set.map(({ standingText }) => standingText));
    await choose('curve');
    const { standingText, facts } = answer('curve').curve!;
    expect(await page.locator('#view .tag:visible').first().textContent()).toBe(standingText);
    expect(facts[0]!.label).toBe('Where it stands');
    await page.getByText(facts[0]!.text, { exact: true }).waitFor();
    await page.close();
  });
});
