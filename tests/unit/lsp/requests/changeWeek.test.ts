import { describe, expect, it } from 'vitest';
import { changeWeekHandler } from '../../../../server/src/lsp/requests/changeWeek.ts';
import type { PanelChange } from '../../../../server/src/protocol/panel/pageMessages.ts';
import { edited, harborRoute, openEditor, uriOf } from '../editor.ts';

const TODAY = '2026-11-16T18:00';

describe('a change of the week file', () => {
  const week = 'route: lanternfall.route.yaml\npin: [crate-vault] # mine\nblock: 25\n';
  const files = { 'lanternfall.route.yaml': harborRoute, 'lanternfall.week.yaml': week };

  async function changed(change: PanelChange, technique: string, own: Record<string, string> = files) {
    const editor = await openEditor(own, { today: TODAY });
    const uri = uriOf('lanternfall.route.yaml');
    const { edit, message } = await changeWeekHandler(editor.services)({ uri, technique, change });
    const name = edit?.uri.split('/').at(-1) ?? '';
    return { message, name, create: edit?.create, text: edit && edited(own[name] ?? '', [...edit.changes]) };
  }

  it.each<[PanelChange, string, string]>([
    ['pin', 'lamp-clip', week.replace('[crate-vault]', '[crate-vault, lamp-clip]')],
    ['unpin', 'crate-vault', week.replace('[crate-vault]', '[]')],
    ['leave-out', 'lamp-clip', `${week}leave_out: [lamp-clip]\n`],
    // What is left out is pinned no longer: the two would contradict one another.
    ['leave-out', 'crate-vault', `${week.replace('[crate-vault]', '[]')}leave_out: [crate-vault]\n`],
    ['learning', 'lamp-clip', `${week}states:\n  lamp-clip: learning\n`],
  ])('%s of %s is the smallest edit', async (change, technique, wanted) => {
    expect((await changed(change, technique)).text).toBe(wanted);
  });

  it('finds a technique under the id that it had before', async () => {
    const own = { ...files, 'lanternfall.week.yaml': week.replace('crate-vault', 'box-jump') };
    expect((await changed('unpin', 'crate-vault', own)).text).toBe(week.replace('[crate-vault]', '[]'));
  });

  it('says so where nothing is to be done, and for what is not in the route', async () => {
    const again = await changed('pin', 'crate-vault');
    expect(again.text).toBeUndefined();
    expect(again.message).toMatch(/is pinned in .* already/);
    expect((await changed('pin', 'nope')).message).toMatch(/no technique nope/);
  });

  it('makes a week file where there is none', async () => {
    const own = { 'lanternfall.route.yaml': harborRoute };
    const { text, create, name } = await changed('pin', 'lamp-clip', own);
    expect({ text, create, name }).toEqual({
      text: 'route: lanternfall.route.yaml\npin: [lamp-clip]\n',
      create: true,
      name: 'lanternfall.week.yaml',
    });
  });
});
