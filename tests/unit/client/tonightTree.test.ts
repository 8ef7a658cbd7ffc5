import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { RouteChoice } from '../../../client/src/routes/routeChoice.ts';
import { harborRoute, openEditor, uriOf } from '../lsp/editor.ts';
import * as editor from './fakeEditor.ts';
import { clientOf, nothingSeen } from './standInEditor.ts';

vi.mock('vscode', () => editor);
const { TonightTree } = await import('../../../client/src/panel/tonightTree.ts');

const route = uriOf('a.route.yaml');
const files = {
  'a.route.yaml': harborRoute,
  'a.week.yaml': 'route: a.route.yaml\ndays: { mon: 60, tue: 60 }\n',
};

/**
 * The view on a server in memory.
 *
 * @param known the route that a view without a question takes; of several, each time the next
 */
async function treeOf(
  known: string | undefined | (string | undefined)[],
  fails: Readonly<Record<string, string>> = {},
  today = '2026-11-16',
) {
  const server = await openEditor(files, { today });
  const next = (): string | undefined => (Array.isArray(known) ? known.shift() : known);
  const routes = { known: () => Promise.resolve(next()) } as unknown as RouteChoice;
  return new TonightTree(clientOf(server, nothingSeen, fails), routes);
}

describe('Tonight, in the side bar', () => {
  let folder: string;
  const write = (...names: string[]): void =>
    names.forEach((name) => writeFileSync(join(folder, name), 'game: Harbor\n'));
  const words = async (tree: Awaited<ReturnType<typeof treeOf>>): Promise<string[]> =>
    (await tree.getChildren()).map(({ label, text }) => (text === '' ? label : `${label}: ${text}`));

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'routewright-tonight-'));
    editor.workspace.workspaceFolders = [{ uri: editor.Uri.file(folder) }];
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  it('lists the blocks of the day, each with the technique that its button starts', async () => {
    const [first] = await (await treeOf(route)).getChildren();
    expect(first).toMatchObject({ label: 'lamp-hop', block: { uri: route, technique: 'lamp-hop' } });
    expect(first!.text).toMatch(/ min/);
  });

  it('says once that there is nothing to practise, and why', async () => {
    const [first] = await (await treeOf(route, {}, '2026-11-18')).getChildren();
    expect(first!.label).toBe('Nothing to practise');
    expect(first!.text).toBe(
      'Today has no minutes for practice. The next practice is on Mon 2026-11-23 (60 min).',
    );
  });

  it('is empty, so that its welcome offers a first route, only where there is none', async () => {
    expect(await words(await treeOf(undefined))).toEqual([]);
  });

  it('asks which of several routes it is about; a click opens one', async () => {
    write('a.route.yaml', 'b.route.yaml');
    const tree = await treeOf(undefined);
    expect(await words(tree)).toEqual([
      'Which route?: Open one of them to see what to practise today.',
      'a.route.yaml',
      'b.route.yaml',
    ]);
    const rows = await tree.getChildren();
    const { command } = tree.getTreeItem(rows[2]!) as unknown as editor.TreeItem;
    expect(command?.command).toBe('vscode.open');
    expect(String(command?.arguments[0])).toBe(editor.Uri.file(join(folder, 'b.route.yaml')).toString());
  });

  it('says so where the request failed, and why', async () => {
    expect(await words(await treeOf(route, { 'routewright/tonight': 'out of order' }))).toEqual([
      'No answer: That did not work: out of order',
    ]);
  });

  it('says why where the server has no answer', async () => {
    expect(await words(await treeOf(uriOf('notes.txt')))).toEqual([
      'No answer: This is not a route, practice, runs, week or pool file. Open one of these and ask again.',
    ]);
  });

  it('says that a new file is not read yet, where the server has not heard of it', async () => {
    expect(await words(await treeOf(uriOf('new.route.yaml')))).toEqual([
      'No answer: new.route.yaml is not among the files that were read. Open it and ask again.',
    ]);
  });

  it('shows the answer of a route that is the only one by the time it is looked for', async () => {
    write('a.route.yaml');
    const [first] = await (await treeOf([undefined, route])).getChildren();
    expect(first!.label).toBe('lamp-hop');
  });

  it('no longer says that there is no route once there is one, also before the answer is there', async () => {
    const tree = await treeOf([undefined, route, route]);
    expect(await words(tree)).toEqual([]);
    vi.useFakeTimers();
    try {
      let asked = 0;
      tree.onDidChangeTreeData(() => (asked += 1));
      expect(await words(tree)).toEqual(['Working out what to practise…']);
      vi.runAllTimers();
      expect(asked).toBe(1);
    } finally {
      vi.useRealTimers();
    }
    expect((await words(tree))[0]).toMatch(/^lamp-hop: /);
  });

  it('is asked for again once the server has read the files anew', async () => {
    vi.useFakeTimers();
    try {
      const tree = await treeOf(route);
      let asked = 0;
      tree.onDidChangeTreeData(() => (asked += 1));
      for (let i = 0; i < 3; i++) tree.refreshAfterReading();
      vi.runAllTimers();
      expect(asked).toBe(1);
    } finally {
      vi.useRealTimers();
    }
  });
});
