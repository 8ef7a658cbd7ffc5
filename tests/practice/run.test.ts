import { describe, expect, it } from 'vitest';
import type { RunDraft } from '../../server/src/protocol/runLog/runDraft.ts';
import { runLogVersion } from '../../server/src/protocol/runLog/runForm.ts';
import { accessViolations } from '../helpers/accessViolations.ts';
import { startBeforeTests } from '../panel/page.ts';
import { themes, type PageOptions } from './page.ts';
import { bundleRun, draftOf, form, openRunForm, type OpenForm } from './runForm.ts';

const started = startBeforeTests(bundleRun);

const open = (draft: RunDraft | null = null, options: PageOptions = {}, shown = form): Promise<OpenForm> =>
  openRunForm(started(), draft, options, shown);

describe('a run, segment by segment', () => {
  it('is filled in by the keyboard alone: Enter leads down, Control and Enter saves', async () => {
    const { page, last, complaints } = await open();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('time-0');
    for (const time of ['1:25.4', '1:58', '2:40.1', '1:55']) {
      await page.keyboard.type(time);
      await page.keyboard.press('Enter');
    }
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('total');
    expect(await page.locator('#sum').innerText()).toBe(
      '4 of 4 segments filled: 7:58.5, usually 8:01.6. 4 of 4 tried techniques landed.',
    );
    await page.keyboard.press('Control+Enter');
    expect(await last()).toEqual({
      type: 'run',
      run: {
        start: '',
        total: '',
        times: [
          { segment: 'harbor', time: '1:25.4' },
          { segment: 'rope-yard', time: '1:58' },
          { segment: 'fish-market', time: '2:40.1' },
          { segment: 'oil-cellars', time: '1:55' },
        ],
        tried: ['crate-vault', 'gate-roll', 'rope-swing', 'crate-vault'].map((use) => ({
          use,
          landed: 1,
          tries: 1,
        })),
        ended: null,
        on: '',
      },
    });
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('marks at once a time that cannot be, and does not save one that cannot be read', async () => {
    const { page, said } = await open();
    await page.getByRole('textbox', { name: 'Harbor' }).fill('soon');
    expect(await page.locator('#time-problem-0').innerText()).toBe(
      'Harbor needs a time such as 1:31.8, not soon.',
    );
    expect(await page.locator('#time-0').getAttribute('aria-invalid')).toBe('true');
    await page.locator('#time-1').fill('13.1');
    expect(await page.locator('#time-problem-1').innerText()).toBe(
      '13.1 looks like a typing mistake: even with everything landed it takes about 1:40.0 or more.',
    );
    await page.locator('#time-2').fill('26:40');
    expect(await page.locator('#time-problem-2').innerText()).toContain('it usually takes 2:43.2');
    await page.getByRole('button', { name: 'Save the Run' }).click();
    expect(await page.getByRole('alert').innerText()).toBe('1 time cannot be read.');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('time-0');
    await page.locator('#time-0').fill('1:25');
    await page.locator('#total').fill('9:00');
    expect(await page.locator('#total-problem').innerText()).toBe(
      'The segments take 28:18.1, more than this total.',
    );
    expect((await said()).some(({ type }) => type === 'run')).toBe(false);
    await page.close();
  });

  it('takes a pasted column from a field on, and refuses one that is too long', async () => {
    const { page, last } = await open();
    const paste = (at: number, text: string): Promise<void> =>
      page.locator(`#time-${at}`).evaluate((field, pasted) => {
        const clipboardData = new DataTransfer();
        clipboardData.setData('text', pasted);
        field.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
      }, text);
    await paste(1, '2:01.5\n-\n1:54\n');
    const values = await page
      .locator('input.time')
      .evaluateAll((fields) => fields.map((field) => (field as HTMLInputElement).value));
    expect(values).toEqual(['', '2:01.5', '', '1:54']);
    await paste(2, '1:00 2:00 3:00');
    expect(await page.getByRole('alert').innerText()).toBe(
      'Nothing was pasted: these are 3 times, and from here on the run has 2 segments.',
    );
    const message = await last();
    expect(message?.type === 'draft' && message.draft?.times[1]).toEqual({
      segment: 'rope-yard',
      time: '2:01.5',
    });
    await page.close();
  });

  it('that ended early has no time from there on, and counts only the miss that ended it', async () => {
    const { page, last } = await open();
    await page.locator('#time-0').fill('1:25');
    await page.locator('#time-3').fill('1:55');
    await page.locator('#outcome').selectOption({ label: 'Ended by a missed technique' });
    await page.getByRole('button', { name: 'Save the Run' }).click();
    expect(await page.getByRole('alert').innerText()).toBe('Choose the segment where the run ended.');
    await page.locator('#ended-at').selectOption('rope-yard');
    await page.locator('#ended-by').selectOption({ label: 'Rope swing' });
    expect(await page.locator('input.time:visible').count()).toBe(1);
    expect(await page.locator('#total').isVisible()).toBe(false);
    await page.getByRole('checkbox', { name: 'Gate roll: landed' }).uncheck();
    await page.getByRole('button', { name: 'Save the Run' }).click();
    expect(await last()).toMatchObject({
      type: 'run',
      run: {
        total: '',
        times: [{ segment: 'harbor', time: '1:25' }],
        tried: [
          { use: 'crate-vault', landed: 1, tries: 1 },
          { use: 'gate-roll', landed: 0, tries: 1 },
          { use: 'rope-swing', landed: 0, tries: 1 },
        ],
        ended: { at: 'rope-yard', why: 'miss', by: 'rope-swing' },
      },
    });
    await page.close();
  });

  it('that ended in the first segment says nothing of times, because none is asked for', async () => {
    const { page } = await open();
    await page.locator('#outcome').selectOption({ label: 'Ended by a missed technique' });
    await page.locator('#ended-at').selectOption('harbor');
    await page.locator('#ended-by').selectOption({ label: 'Crate vault' });
    expect(await page.locator('#no-times').isVisible()).toBe(true);
    expect(await page.locator('#sum').innerText()).toBe('0 of 1 tried techniques landed.');
    await page.close();
  });

  it('has each box at the height of its technique', async () => {
    const { page } = await open();
    const apart = await page.locator('#uses tr:has(input)').evaluateAll((rows) =>
      rows.flatMap((row) => {
        const middle = (node: Element): number => {
          const { top, height } = node.getBoundingClientRect();
          return top + height / 2;
        };
        const name = row.querySelector('th')!;
        return [...row.querySelectorAll('input')].map((box) => Math.abs(middle(box) - middle(name)));
      }),
    );
    expect(apart.length).toBeGreaterThan(0);
    expect(Math.max(...apart)).toBeLessThanOrEqual(1.5);
    await page.close();
  });

  it('leaves out what was not tried, all of it with one button, which can be taken back', async () => {
    const { page, last } = await open();
    await page.getByLabel('Crate vault: tried').first().uncheck();
    expect(await page.getByRole('checkbox', { name: 'Crate vault: landed' }).first().isDisabled()).toBe(true);
    expect(await page.locator('#sum').innerText()).toContain('3 of 3 tried techniques landed');
    await page.getByRole('button', { name: 'No Techniques' }).click();
    expect(await page.locator('#sum').innerText()).toContain('No technique was tried.');
    await page.locator('#total').fill('8:00');
    await page.getByRole('button', { name: 'Save the Run' }).click();
    expect(await last()).toMatchObject({ run: { tried: [], total: '8:00' } });
    await page.getByRole('button', { name: 'Tick as Suggested' }).click();
    expect(await page.locator('#sum').innerText()).toContain('4 of 4 tried techniques landed');
    await page.close();
  });

  it('stays where the editor refuses it, with the reason', async () => {
    const { page, tell } = await open();
    await page.locator('#total').fill('8:00');
    const save = page.getByRole('button', { name: 'Save the Run' });
    await save.click();
    expect(await save.isDisabled()).toBe(true);
    await tell({ type: 'refused', text: 'Nothing was logged.' });
    expect(await page.getByRole('alert').innerText()).toBe('Nothing was logged.');
    expect(await save.isDisabled()).toBe(false);
    expect(await page.locator('#total').inputValue()).toBe('8:00');
    await page.close();
  });
});

describe('what was filled in', () => {
  it('goes to the editor with every letter, and is there again after Escape and a reload', async () => {
    const { page, last, tell } = await open();
    await page.locator('#time-1').fill('2:01');
    await page.keyboard.press('Escape');
    await page.getByRole('checkbox', { name: 'Gate roll: landed' }).uncheck();
    const message = await last();
    const draft = message?.type === 'draft' ? message.draft : null;
    expect(draft?.uses).toEqual([{ key: 'harbor gate-roll', tried: true, landed: false }]);
    expect(await page.locator('#time-1').inputValue()).toBe('2:01');
    await page.reload();
    await tell({ type: 'show', file: 'file:///w/lanternfall.route.yaml', form, draft });
    expect(await page.locator('#time-1').inputValue()).toBe('2:01');
    expect(await page.getByRole('checkbox', { name: 'Gate roll: landed' }).isChecked()).toBe(false);
    expect(await page.evaluate(() => (window as unknown as { state: unknown }).state)).toEqual({
      version: runLogVersion,
      uri: 'file:///w/lanternfall.route.yaml',
    });
    await page.close();
  });

  it('is kept where the route has changed since, and the page says how', async () => {
    const draft = draftOf({
      segments: [
        { id: 'harbor', name: 'Harbor' },
        { id: 'old-quay', name: 'Old quay' },
      ],
      times: [
        { segment: 'harbor', time: '1:25' },
        { segment: 'old-quay', time: '0:48.2' },
      ],
    });
    const { page, last } = await open(draft);
    expect(await page.locator('#changed').innerText()).toBe(
      'The route has changed since this was filled in. New in it: Rope yard, Fish market, Oil cellars below the chandlers. No longer in it, and not logged with the run: Old quay 0:48.2.',
    );
    expect(await page.locator('#time-0').inputValue()).toBe('1:25');
    await page.locator('#time-1').fill('2:00');
    const message = await last();
    expect(message?.type === 'draft' && message.draft?.times).toContainEqual({
      segment: 'old-quay',
      time: '0:48.2',
    });
    await page.getByRole('button', { name: 'Save the Run' }).click();
    expect(await last()).toMatchObject({
      run: {
        times: [
          { segment: 'harbor', time: '1:25' },
          { segment: 'rope-yard', time: '2:00' },
        ],
      },
    });
    await page.close();
  });

  it('can be cleared, and brought back', async () => {
    const { page, last } = await open(draftOf({ total: '8:00', outcome: 'finished' }));
    await page.getByRole('button', { name: 'Clear the Form' }).click();
    expect(await last()).toEqual({ type: 'draft', draft: null });
    expect(await page.locator('#total').inputValue()).toBe('');
    await page.getByRole('button', { name: 'Bring It Back' }).click();
    expect(await page.locator('#total').inputValue()).toBe('8:00');
    expect(await last()).toMatchObject({ type: 'draft', draft: { total: '8:00' } });
    await page.close();
  });

  it('is text, whatever a name holds; a message that is not in order is ignored', async () => {
    const name = '<img src=x onerror=alert(1)>';
    const hostile = {
      ...form,
      route: name,
      segments: form.segments.map((segment) => ({ ...segment, name })),
      uses: form.uses.map((use) => ({ ...use, name })),
    };
    const { page, tell, complaints } = await open(null, {}, hostile);
    await tell({ type: 'show', file: 'x', form: { ...form, version: 99 }, draft: null });
    expect(await page.locator('#route').innerText()).toBe(name);
    expect(await page.locator('img').count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe('several runs, summed up', () => {
  it('is sent with its counts, where runs ended and what was tried', async () => {
    const { page, last } = await open();
    await page.getByLabel('Several runs, summed up').check();
    expect(await page.locator('#date').inputValue()).toBe('2026-11-25');
    await page.getByLabel('Runs started').fill('38');
    await page.getByLabel('Finished', { exact: true }).fill('2');
    await page.getByText('Where the other runs ended').click();
    await page.getByLabel('Harbor: resets').fill('30');
    await page.getByText('Techniques that were tried').click();
    await page.getByRole('textbox', { name: 'Rope swing: landed' }).fill('5');
    await page.getByRole('textbox', { name: 'Rope swing: tries' }).fill('8');
    await page.getByRole('button', { name: 'Save the Runs' }).click();
    expect(await last()).toEqual({
      type: 'evening',
      evening: {
        date: '2026-11-25',
        runs: '38',
        finished: '2',
        minutes: '',
        ended: [{ segment: 'harbor', why: 'reset', runs: '30' }],
        tried: [{ use: 'rope-swing', landed: '5', tries: '8' }],
        on: '',
      },
    });
    await page.close();
  });
});

it('reads in the order of the route, with a name for each field', async () => {
  const { page } = await open(draftOf({ times: [{ segment: 'harbor', time: 'soon' }] }));
  const snapshot = await page.locator('#run').ariaSnapshot();
  await expect(`${snapshot}\n`).toMatchFileSnapshot('snapshots/run-form.txt');
  await page.close();
});

describe.each(themes)('in the theme %s', (theme) => {
  it.each(['run', 'evening'] as const)('has nothing that keeps anyone out: %s', async (kind) => {
    const draft = draftOf({
      kind,
      segments: [{ id: 'old-quay', name: 'Old quay' }],
      outcome: kind === 'run' ? 'miss' : 'finished',
      endedAt: 'fish-market',
      times: [
        { segment: 'harbor', time: 'soon' },
        { segment: 'old-quay', time: '0:48' },
      ],
    });
    const { page, tell, complaints } = await open(draft, { theme, width: 300 });
    for (const summary of await page.locator('summary:visible').all()) await summary.click();
    await tell({
      type: 'refused',
      text: 'Nothing was logged. The journal cannot be written: no space is left.',
    });
    expect(await accessViolations(page)).toEqual([]);
    // Nothing is cut off at the narrowest width.
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(300);
    expect(complaints).toEqual([]);
    await page.close();
  });
});
