import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as editor from './fakeEditor.ts';

vi.mock('vscode', () => editor);
const { RouteChoice } = await import('../../../client/src/routes/routeChoice.ts');

/** The memory of a folder that is open in the editor. */
function createMemory(): { get(key: string): unknown; update(key: string, value: unknown): Promise<void> } {
  const kept = new Map<string, unknown>();
  return {
    get: (key) => kept.get(key),
    update: (key, value) => Promise.resolve(void kept.set(key, value)),
  };
}

describe('the route that a command is about', () => {
  let folder: string;
  let memory: ReturnType<typeof createMemory>;
  const uriOf = (name: string): string => editor.Uri.file(join(folder, name)).toString();
  const write = (...names: string[]): void =>
    names.forEach((name) => writeFileSync(join(folder, name), 'game: Harbor\n'));
  const choose = (calledOn?: unknown): Promise<string | undefined> =>
    new RouteChoice(memory as never, { settle }).choose('A ranking needs a route.', calledOn);
  const settle = () => Promise.reject(new Error('whose logs count is not asked here'));
  const places = (): string[] => editor.shown.map(({ where }) => where);

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'routewright-choice-'));
    memory = createMemory();
    editor.workspace.workspaceFolders = [{ uri: editor.Uri.file(folder) }];
    editor.window.activeTextEditor = undefined;
    editor.shown.length = 0;
    editor.person.pick = (items) => items.at(-1);
    editor.person.press = () => undefined;
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  it('is the file that a menu was opened on, before the one in front', async () => {
    write('a.route.yaml', 'b.route.yaml');
    editor.openInFront(uriOf('a.route.yaml'));
    expect(await choose(editor.Uri.file(join(folder, 'b.route.yaml')))).toBe(uriOf('b.route.yaml'));
    expect(await choose(editor.Uri.file(join(folder, 'notes.txt')))).toBe(uriOf('a.route.yaml'));
  });

  it('is the only route of the folder, without a question', async () => {
    write('a.route.yaml', 'a.practice.yaml');
    expect(await choose()).toBe(uriOf('a.route.yaml'));
    expect(places()).toEqual([]);
  });

  it('is picked once where there are several, and then the one used last', async () => {
    write('a.route.yaml', 'b.route.yaml');
    expect(await choose()).toBe(uriOf('b.route.yaml'));
    expect(places()).toContain('showQuickPick label');
    editor.shown.length = 0;
    expect(await choose()).toBe(uriOf('b.route.yaml'));
    expect(places()).toEqual([]);
  });

  it('is asked for again where the one used last was removed', async () => {
    write('a.route.yaml', 'b.route.yaml', 'c.route.yaml');
    await choose();
    rmSync(join(folder, 'c.route.yaml'));
    expect(await choose()).toBe(uriOf('b.route.yaml'));
    expect(places().filter((where) => where === 'showQuickPick title')).toHaveLength(2);
  });

  it('is none where the person picks none, and no second question follows', async () => {
    write('a.route.yaml', 'b.route.yaml');
    editor.person.pick = () => undefined;
    expect(await choose()).toBeUndefined();
    expect(places()).not.toContain('showInformationMessage');
  });

  it('is made where there is none yet: the message says what is needed and offers four ways', async () => {
    const pressed: (readonly string[])[] = [];
    editor.person.press = (_, buttons) => {
      pressed.push(buttons);
      return undefined;
    };
    expect(await choose()).toBeUndefined();
    expect(editor.shown).toEqual([
      {
        where: 'showInformationMessage',
        text: 'A ranking needs a route. There is none in this folder yet.',
      },
    ]);
    expect(pressed).toEqual([['Create a Route', 'Paste a Table', 'Open the Sample', 'Open a Route File']]);
  });

  it('is the one just created, so that the command goes on', async () => {
    const run = vi.spyOn(editor.commands, 'executeCommand').mockImplementation(() => {
      editor.openInFront(uriOf('new.route.yaml'));
      return Promise.resolve(undefined);
    });
    editor.person.press = (_, [create]) => create;
    expect(await choose()).toBe(uriOf('new.route.yaml'));
    expect(run).toHaveBeenCalledWith('routewright.createRoute');
    run.mockRestore();
  });
});
