import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { defaultBindings, type Bindings } from '../../server/src/protocol/practice/bindings.ts';
import { accessViolations } from '../helpers/accessViolations.ts';
import { startBeforeTests } from '../panel/page.ts';
import { attemptsOf, blockData, bundlePractice, openView, themes, type OpenView } from './page.ts';

const started = startBeforeTests(bundlePractice);

/** A view with a block that runs. */
async function running(data = blockData()): Promise<OpenView> {
  const view = await openView(started());
  await view.show(data);
  return view;
}

const heard = (page: Page): Promise<string[]> =>
  page.evaluate(() => (window as unknown as { heard: string[] }).heard);
const bound = (change: (bindings: Bindings) => Bindings): Bindings =>
  change(structuredClone(defaultBindings));

describe('keys', () => {
  it('land, miss, take back and end, and no one else hears of them', async () => {
    const { page, pressed, complaints } = await running();
    for (const key of ['l', 'm', 'Backspace', 'e', 'x']) await page.keyboard.press(key);
    expect(await pressed()).toEqual(['landed', 'missed', 'back', 'end']);
    expect(await heard(page)).toEqual(['keydown KeyX', 'keyup KeyX']);
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('keep a pedal that sends F5 from everything else once it is chosen', async () => {
    const bindings = bound((one) => ({ ...one, keys: { ...one.keys, landed: { code: 'F5', name: 'F5' } } }));
    const { page, pressed } = await running(blockData({ bindings }));
    let loaded = 0;
    page.on('load', () => (loaded += 1));
    await page.keyboard.press('F5');
    expect(await pressed()).toEqual(['landed']);
    expect(await heard(page)).toEqual([]);
    expect(loaded).toBe(0);
    await page.close();
  });

  it('count once while held, whether or not the system says that it repeats', async () => {
    const { page, pressed } = await running();
    // Without a release in between, the browser marks the next as repeated.
    for (let times = 0; times < 5; times += 1) await page.keyboard.down('l');
    await page.keyboard.up('l');
    // A pedal may send the same without the mark.
    await page.evaluate(() => {
      const down = (): boolean =>
        document.dispatchEvent(new KeyboardEvent('keydown', { code: 'KeyM', key: 'm', bubbles: true }));
      down();
      down();
      down();
      document.dispatchEvent(new KeyboardEvent('keyup', { code: 'KeyM', key: 'm', bubbles: true }));
      down();
    });
    expect(await pressed()).toEqual(['landed', 'missed', 'missed']);
    await page.close();
  });

  it('leave commands with Control, Alt or Meta to the editor', async () => {
    const { page, pressed } = await running();
    for (const key of ['Control+l', 'Alt+m', 'Meta+e']) await page.keyboard.press(key);
    expect(await pressed()).toEqual([]);
    expect(
      (await heard(page)).filter((one) => /Key[LME]/.test(one) && one.startsWith('keydown')),
    ).toHaveLength(3);
    await page.close();
  });

  it.each(['count', 'rest', 'rested'] as const)('count nothing in %s', async (phase) => {
    const { page, pressed } = await running(blockData({ phase, restEnds: Date.now() + 60_000 }));
    await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
    for (const key of ['l', 'm', 'Backspace', 'e']) await page.keyboard.press(key);
    expect(await pressed()).toEqual([]);
    await page.close();
  });

  it('can be pressed by mouse and screen reader as buttons with their key in the name', async () => {
    const { page, pressed } = await running();
    for (const name of ['Landed (L)', 'Missed (M)', 'Take Back (Backspace)', 'End Block (E)']) {
      await page.getByRole('button', { name, exact: true }).click();
    }
    expect(await pressed()).toEqual(['landed', 'missed', 'back', 'end']);
    await page.close();
  });
});

describe('focus', () => {
  it('is said plainly once it is lost, and the message goes once it is back', async () => {
    const { page } = await running();
    const message = page.locator('#focus');
    expect(await message.isVisible()).toBe(false);
    // Whether a page of a headless browser has the focus is set here, since nothing else takes it.
    const focus = (has: boolean): Promise<void> =>
      page.evaluate((now) => {
        Object.defineProperty(document, 'hasFocus', { value: () => now, configurable: true });
        window.dispatchEvent(new Event(now ? 'focus' : 'blur'));
      }, has);
    await focus(false);
    expect(await message.innerText()).toContain('Keys do not reach this view');
    await focus(true);
    expect(await message.isVisible()).toBe(false);
    await page.close();
  });
});

describe('a press that nobody answers', () => {
  it('is pointed out after a while, and no more once it is answered', async () => {
    const { page, tell } = await running();
    for (const key of ['l', 'm']) await page.keyboard.press(key);
    const note = page.locator('#unanswered');
    expect(await note.isVisible()).toBe(false);
    await note.filter({ hasText: '2 presses have had no answer' }).waitFor();
    await tell({ type: 'answered', press: 1, written: true });
    await note.filter({ hasText: '1 press has had no answer' }).waitFor();
    await tell({ type: 'answered', press: 2, written: false });
    await note.waitFor({ state: 'hidden' });
    await page.close();
  });
});

describe('choosing keys', () => {
  it('takes the next key pressed, F5 too, tells the editor, and logs nothing by it', async () => {
    const { page, said, pressed } = await running();
    await page.getByText('Keys and gamepad').click();
    await page.locator('#key-landed').click();
    expect(await page.locator('#key-landed').innerText()).toBe('Press a key…');
    await page.keyboard.press('F5');
    expect(await page.locator('#key-landed').innerText()).toBe('F5');
    const last = (await said()).at(-1);
    expect(last?.type === 'bind' && last.bindings.keys.landed).toEqual({ code: 'F5', name: 'F5' });
    expect(await pressed()).toEqual([]);
    await page.keyboard.press('F5');
    await page.keyboard.press('l');
    expect(await pressed()).toEqual(['landed']);
    await page.close();
  });

  it('refuses a key that does something else, and leaves all as it is on Escape', async () => {
    const { page, said } = await running();
    await page.getByText('Keys and gamepad').click();
    await page.locator('#key-landed').click();
    await page.keyboard.press('m');
    expect(await page.locator('#binding-said').innerText()).toContain('M is the key for “Missed” already');
    await page.locator('#key-landed').click();
    await page.keyboard.press('Escape');
    expect(await page.locator('#key-landed').innerText()).toBe('L');
    expect((await said()).filter(({ type }) => type === 'bind')).toEqual([]);
    await page.close();
  });
});

/** Replaces `navigator.getGamepads`: there is no gamepad here, and a browser cannot be given one. */
async function plugIn(page: Page): Promise<{ press(button: number): Promise<void> }> {
  await page.evaluate(() => {
    const buttons = Array.from({ length: 12 }, () => ({ pressed: false, touched: false, value: 0 }));
    Object.assign(window, { buttons });
    navigator.getGamepads = () =>
      [null, { id: 'a stand-in pad', index: 1, buttons } as unknown as Gamepad] as (Gamepad | null)[];
  });
  const frames = (count: number): Promise<void> =>
    page.evaluate(async (many) => {
      for (let at = 0; at < many; at += 1) await new Promise((resolve) => requestAnimationFrame(resolve));
    }, count);
  const set = (button: number, pressed: boolean): Promise<void> =>
    page.evaluate(
      ([at, now]) => {
        const { buttons } = window as unknown as { buttons: { pressed: boolean }[] };
        buttons[at]!.pressed = now;
      },
      [button, pressed] as const,
    );
  return {
    async press(button) {
      await frames(2);
      await set(button, true);
      await frames(4);
      await set(button, false);
      await frames(2);
    },
  };
}

describe('a gamepad (navigator.getGamepads is replaced here)', () => {
  it('does nothing until a button is chosen by pressing it; then that button and no other', async () => {
    const { page, pressed, said } = await running();
    const pad = await plugIn(page);
    await pad.press(0);
    await pad.press(7);
    expect(await pressed()).toEqual([]);
    await page.getByText('Keys and gamepad').click();
    await page.locator('#pad-landed').click();
    await pad.press(7);
    expect(await page.locator('#pad-landed').innerText()).toBe('Button 8');
    const last = (await said()).at(-1);
    expect(last?.type === 'bind' && last.bindings.pad.landed).toEqual({ pad: 'a stand-in pad', button: 7 });
    expect(await pressed()).toEqual([]);
    await pad.press(0);
    await pad.press(7);
    expect(await pressed()).toEqual(['landed']);
    await page.locator('#off-landed').click();
    await pad.press(7);
    expect(await pressed()).toEqual(['landed']);
    await page.close();
  });
});

describe('what is shown', () => {
  it('counts what was logged, with the pace of the last minutes and what landed lately', async () => {
    // 24 attempts, 5 s apart: 12 a minute; of the last 30 s, those 0 to 25 s ago, which are 6.
    const { page } = await running(blockData({ attempts: attemptsOf('mmmmmmmmmmmmmmmmmmlmlmll', 5) }));
    expect(await page.locator('#attempts').innerText()).toBe('24');
    expect(await page.locator('#landed-count').innerText()).toBe('4');
    expect(Number(await page.locator('#pace').innerText())).toBeCloseTo(12, 0);
    expect(await page.locator('#lately').innerText()).toBe('4 of 6');
    expect(await page.locator('#tape').innerText()).toBe('✗✗✗✗✗✗✗✗✗✗✗✗✗✗✗✗✗✗✓✗✓✗✓✓');
    await page.close();
  });

  it('goes on by the editor’s clock after it is loaded again, also where that is another', async () => {
    const { page, show, said } = await running();
    await page.reload();
    expect((await said()).map(({ type }) => type)).toEqual(['ready']);
    // The editor runs on a machine whose clock is an hour ahead; 4 min 30 s are left on it.
    const now = Date.now() + 3_600_000;
    await show(
      blockData({ now, began: now - 1_230_000, ends: now + 270_000, attempts: attemptsOf('lm', 5, now) }),
    );
    expect(await page.locator('#left').innerText()).toMatch(/^4:(30|29)$/);
    expect(await page.locator('#attempts').innerText()).toBe('2');
    await page.close();
  });

  it('says that time is up and goes on counting the attempt under way', async () => {
    const { page, pressed } = await running(
      blockData(
        {
          phase: 'up',
          said: 'Time is up. The attempt under way still counts.',
          attempts: attemptsOf('l', 5),
        },
        25,
      ),
    );
    expect(await page.locator('#left').innerText()).toBe('0:00');
    expect(await page.getByRole('status').first().innerText()).toContain('Time is up');
    await page.keyboard.press('m');
    expect(await pressed()).toEqual(['missed']);
    await page.close();
  });

  it('asks for two numbers where nothing was counted, and takes no impossible ones', async () => {
    const { page, said, show } = await running();
    await show(blockData({ phase: 'count' }));
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('landed');
    await page.keyboard.type('12');
    await page.keyboard.press('Tab');
    // Letters that are keys elsewhere are letters here.
    await page.keyboard.type('me');
    await page.keyboard.press('Enter');
    expect(await page.locator('#counts-said').innerText()).toContain('Two whole numbers');
    await page.locator('#tries').fill('10');
    await page.keyboard.press('Enter');
    expect(await page.locator('#counts-said').innerText()).toContain('no more than 10 can land');
    await page.locator('#tries').fill('20');
    await page.keyboard.press('Enter');
    expect((await said()).filter(({ type }) => type !== 'ready')).toEqual([
      { type: 'counts', landed: 12, tries: 20 },
    ]);
    await page.close();
  });

  it('offers the rest and the next block, and points at slow attempts with a way to correct the cycle', async () => {
    const { page, said, show } = await running(
      blockData({
        slow: { cycle: 9.5, text: 'The last 9 attempts came some 9.5 s apart; the route says 5 s.' },
      }),
    );
    await page.getByRole('button', { name: 'Set the Cycle to 9.5 s' }).click();
    await page.getByRole('button', { name: 'Leave It' }).click();
    await page.getByRole('button', { name: '5 Min Less' }).click();
    await page.getByRole('button', { name: '5 Min More' }).click();
    const next = { technique: 'wall-kick', name: 'Wall kick', minutes: 25, from: '' };
    await show(blockData({ phase: 'rest', restEnds: Date.now() + 300_000, next }));
    expect(await page.getByRole('heading', { name: 'Rest', exact: true }).isVisible()).toBe(true);
    await page.getByRole('button', { name: 'Start Wall kick' }).click();
    await page.getByRole('button', { name: 'Another Technique…' }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    expect((await said()).map(({ type }) => type)).toEqual([
      'ready',
      'correct',
      'keep',
      'less',
      'more',
      'next',
      'other',
      'close',
    ]);
    await page.close();
  });

  it('reads no message that is not in order, and shows text from files as text', async () => {
    const { page, tell, show, complaints } = await running();
    await tell({ type: 'show', data: { ...blockData(), phase: 'won', name: 'No' } });
    expect(await page.locator('h1').innerText()).toBe('Crate vault');
    await show(blockData({ name: '<img src=x onerror=alert(1)>' }));
    expect(await page.locator('h1').innerText()).toBe('<img src=x onerror=alert(1)>');
    expect(await page.locator('img').count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe.each(themes)('in the theme %s', (theme) => {
  it.each(['block', 'paused', 'count', 'rest'] as const)(
    'has nothing that keeps anyone out: %s',
    async (phase) => {
      const { page, show, complaints } = await openView(started(), { theme, width: 320 });
      await show(
        blockData({
          phase,
          restEnds: Date.now() + 300_000,
          attempts: phase === 'count' ? [] : attemptsOf('lmmlmllmlmlmlmlmlm', 6),
          said: 'Taken back.',
          slow: { cycle: 9.5, text: 'The last 9 attempts came some 9.5 s apart; the route says 5 s.' },
          caution: 'Long days tire hands and wrists: take pain as a reason to stop and see a clinician.',
          next: { technique: 'wall-kick', name: 'Wall kick', minutes: 25, from: 'the well' },
        }),
      );
      if (phase !== 'count') await page.getByText('Keys and gamepad').click();
      expect(await accessViolations(page)).toEqual([]);
      // Nothing is cut off at the narrowest width.
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
      expect(
        await page
          .locator('[style]')
          .evaluateAll((found) => found.filter((one) => one.tagName !== 'HTML').length),
      ).toBe(0);
      expect(complaints).toEqual([]);
      await page.close();
    },
  );
});
