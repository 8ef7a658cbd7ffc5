import { describe, expect, it } from 'vitest';
import { setStateHandler } from '../../../../server/src/lsp/requests/setState.ts';
import { edited, harborRoute, openEditor, uriOf } from '../editor.ts';

async function ask(
  files: Record<string, string>,
  technique: string,
  open: readonly string[] = ['a.route.yaml'],
) {
  const editor = await openEditor({ 'a.route.yaml': harborRoute, ...files }, { open });
  const result = await setStateHandler(editor.services)({
    uri: uriOf('a.route.yaml'),
    technique,
    state: 'learning',
  });
  const { edit } = result;
  const name = edit?.uri.split('/').at(-1) ?? '';
  const text = edit && edited(edit.create ? '' : editor.text(name), [...edit.changes]);
  return { ...result, name, text };
}

describe('setting a state', () => {
  it('edits the week file, with the version that is open', async () => {
    const week = 'route: a.route.yaml\nstates:\n  lamp-hop: in-run # for good\n';
    const closed = await ask({ 'a.week.yaml': week }, 'lamp-hop');
    expect(closed.name).toBe('a.week.yaml');
    expect(closed.text).toBe('route: a.route.yaml\nstates:\n  lamp-hop: learning # for good\n');
    expect(closed.edit).toMatchObject({ create: false, version: null });
    const opened = await ask({ 'a.week.yaml': week }, 'lamp-hop', ['a.week.yaml']);
    expect(opened.edit).toMatchObject({ create: false, version: 1 });
  });

  it('changes the entry that counts, also under a former id', async () => {
    const { text } = await ask(
      { 'a.week.yaml': 'route: a.route.yaml\nstates:\n  box-jump: unlearned\n' },
      'crate-vault',
    );
    expect(text).toBe('route: a.route.yaml\nstates:\n  box-jump: learning\n');
  });

  it('creates a week file where there is none, under a free name', async () => {
    const fresh = await ask({}, 'lamp-hop');
    expect(fresh.edit).toMatchObject({ create: true, uri: uriOf('a.week.yaml') });
    expect(fresh.text).toBe('route: a.route.yaml\nstates:\n  lamp-hop: learning\n');
    expect(fresh.message).toContain('There is no week file for this route yet.');
    const taken = await ask({ 'a.week.yaml': 'route: other.route.yaml\n' }, 'lamp-hop');
    expect(taken.edit).toMatchObject({ create: true, uri: uriOf('a-2.week.yaml') });
  });

  it('creates it for the runner of the logs', async () => {
    const log = 'route: a.route.yaml\nrunner: "wick #2"\nsessions: []\n';
    expect((await ask({ 'a.practice.yaml': log }, 'lamp-hop')).text).toBe(
      'route: a.route.yaml\nrunner: "wick #2"\nstates:\n  lamp-hop: learning\n',
    );
  });

  it('says so where nothing is to be done', async () => {
    const done = await ask(
      { 'a.week.yaml': 'route: a.route.yaml\nstates: { lamp-hop: learning }\n' },
      'lamp-hop',
    );
    expect(done.edit).toBeUndefined();
    expect(done.message).toBe('lamp-hop is set to learning in a.week.yaml already.');
    const unknown = await ask({}, 'lamp-hip');
    expect(unknown.edit).toBeUndefined();
    expect(unknown.message).toContain('no technique lamp-hip');
  });

  it('leaves a week file alone that it cannot read', async () => {
    const { edit, message } = await ask(
      { 'a.week.yaml': 'route: a.route.yaml\nstates: [lamp-hop\n' },
      'lamp-hop',
    );
    expect(edit).toBeUndefined();
    expect(message).toContain('by hand');
  });

  it('does not choose between runners', async () => {
    const log = (runner: string) => `route: a.route.yaml\nrunner: ${runner}\nsessions: []\n`;
    const { edit, message } = await ask(
      { 'a.practice.yaml': log('wick'), 'b.practice.yaml': log('ember') },
      'lamp-hop',
    );
    expect(edit).toBeUndefined();
    expect(message).toContain('ember and wick');
  });
});
