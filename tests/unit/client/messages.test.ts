import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { RouteChoice } from '../../../client/src/routes/routeChoice.ts';
import type { RunnerChoice } from '../../../client/src/routes/runnerChoice.ts';
import { whoseLogsRequest } from '../../../server/src/protocol/messages/runners.ts';
import { editorText } from '../../../server/src/safeText/editor.ts';
import { bundleServer, startProcess, type RunningServer } from '../../lsp/server.ts';
import * as editor from './fakeEditor.ts';
import { waitFor } from '../../helpers/eventually.ts';

vi.mock('vscode', () => editor);

/** What the editor makes a link of in a message, and an icon of in a list: expressions of VS Code's own. */
const link = /\[([^\]]+)\]\(((?:https?:\/\/|command:|file:)[^)\s]+)(?: (["'])(.+?)(\3))?\)/i;
const icon = /\$\([a-z0-9-]+(?:~[a-z]+)?\)/i;
/** Icons of the extension's own, where it puts them. */
const ownIcons = /^\$\((?:loading~spin|milestone|watch|question|person)\) | \$\(warning\) (?=\d+$)/g;

const hostile = '[Lamp](command:workbench.action.closeWindow) $(gear)';
const stem = 'a[b](command:x)$(gear)';
const q = JSON.stringify;
const firstOf = editor.person.pick;

const files = {
  [`${stem}.route.yaml`]: `game: ${q(hostile)}
category: ${q(hostile)}
segments:
  - { id: harbor, name: ${q(hostile)}, time: 1:30, techniques: [crate-vault] }
  - { id: yard, name: ${q(hostile)}, time: 2:08, techniques: [lamp-hop] }
techniques:
  crate-vault: { name: ${q(hostile)}, difficulty: 3, saves: 3, loses: 1, from: ${q(hostile)} }
  lamp-hop: { name: ${q(hostile)}, difficulty: 2, saves: 1.5, loses: 1, needs: [crate-vault] }
`,
  [`other${stem}.route.yaml`]: `game: ${q(hostile)}\ncategory: x\n`,
  [`stray${stem}.practice.yaml`]: `route: ${q(`${hostile}.route.yaml`)}\nsessions: []\n`,
  [`${stem}.practice.yaml`]: `route: ${q(`${stem}.route.yaml`)}\nsessions: []\n`,
  [`${stem}.runs.yaml`]: `route: ${q(`${stem}.route.yaml`)}\nruns: []\n`,
  [`two${stem}.route.yaml`]: `game: ${q(hostile)}\ncategory: x\nsegments: [{ id: a, time: 60 }]\n`,
  [`two1${stem}.runs.yaml`]: `route: ${q(`two${stem}.route.yaml`)}\nrunner: ${q(hostile)}\nruns: []\n`,
  [`two2${stem}.runs.yaml`]: `route: ${q(`two${stem}.route.yaml`)}\nrunner: ${q(`2${hostile}`)}\nruns: []\n`,
};

describe('a text for what the editor shows', () => {
  it('is no link and no icon, whatever it is made of', () => {
    const piece = fc.constantFrom(
      '[',
      ']',
      '(',
      ')',
      '$',
      'command:x',
      'a',
      ' ',
      '\n',
      '\u200b',
      '\r',
      '\\',
      '"',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 20 }), (pieces) => {
        const text = editorText(pieces.join(''));
        expect(text).not.toMatch(link);
        expect(text).not.toMatch(icon);
        expect(editorText(text)).toBe(text);
      }),
      { seed: 7, numRuns: 3000 },
    );
  });

  it('leaves usual names as they are', () => {
    for (const name of [
      'Wall-kick (fast)',
      'Lamp [late]',
      'Chest $5',
      'A & B: 100 %',
      'f(x)',
      'ランプ',
      '🏮',
    ])
      expect(editorText(name)).toBe(name);
  });
});

describe('every message of the extension, with names that hold commands and icons', () => {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-messages-'));
  const state = mkdtempSync(join(tmpdir(), 'routewright-state-'));
  let bundle: Awaited<ReturnType<typeof bundleServer>>;
  let server: RunningServer;
  const uriOf = (name: string) => pathToFileURL(join(folder, name)).href;
  const route = uriOf(`${stem}.route.yaml`);
  /** The client's side of the real server; an error can be put in place of the next answer. */
  let nextError: Error | undefined;
  const client = {
    sendRequest: (type: never, params: never) => {
      // Whose logs count is asked before what a command is about.
      if ((type as { method: string }).method === whoseLogsRequest.method)
        return server.client.request(type, params);
      const error = nextError;
      nextError = undefined;
      return error ? Promise.reject(error) : server.client.request(type, params);
    },
    isRunning: () => true,
    error: () => undefined,
    sendNotification: () => Promise.resolve(),
    onNotification: () => new editor.Disposable(() => undefined),
  } as unknown as BaseLanguageClient;
  const memory = {
    get: (_key: string, otherwise: unknown) => otherwise,
    update: () => Promise.resolve(),
  } as never;
  let routes: RouteChoice;
  let runners: RunnerChoice;

  beforeAll(async () => {
    const { RunnerChoice } = await import('../../../client/src/routes/runnerChoice.ts');
    runners = new RunnerChoice(client, memory);
    routes = new (await import('../../../client/src/routes/routeChoice.ts')).RouteChoice(memory, runners);
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
    process.env.ROUTEWRIGHT_STATE_HOME = state;
    bundle = await bundleServer('main');
    server = startProcess(bundle.file);
    editor.workspace.workspaceFolders = [{ uri: editor.Uri.file(folder) }];
    server.client.connection.onRequest('workspace/applyEdit', () => ({ applied: true }));
    await server.client.initialize(pathToFileURL(folder).href, { today: '2026-11-09', showsInPanel: true });
  });
  afterAll(async () => {
    await server.stop();
    await bundle.remove();
    delete process.env.ROUTEWRIGHT_STATE_HOME;
    for (const made of [folder, state]) rmSync(made, { recursive: true });
  });
  beforeEach(() => {
    editor.shown.length = 0;
    editor.openInFront(route);
    nextError = undefined;
    const first = editor.Uri.file(folder);
    editor.workspace.workspaceFolders = [{ uri: first }];
  });

  /** Expects that nothing shown acts, and that a hostile name was shown in each of these places. */
  function expectHarmless(...places: readonly string[]): void {
    for (const { where, text } of editor.shown) {
      const words = text.replace(ownIcons, '');
      expect({ where, acts: link.test(words) || icon.test(words) }).toEqual({ where, acts: false });
      // Even where the end of one text meets the beginning of another.
      expect(words, where).not.toMatch(/\]\(|\$\(/);
    }
    const named = editor.shown.filter(({ text }) => /command:/.test(text)).map(({ where }) => where);
    expect([...new Set(named)]).toEqual(expect.arrayContaining([...places]));
  }

  it('Rank Next Skill: the list, the question, the answer', async () => {
    const { rankNextSkill } = await import('../../../client/src/commands/rankNextSkill.ts');
    await rankNextSkill(client, routes);
    await waitFor(() =>
      expect(editor.shown.filter(({ where }) => where === 'showInformationMessage')).toHaveLength(2),
    );
    expectHarmless('showQuickPick label', 'showQuickPick title', 'showInformationMessage');
  });

  it.each([`stray${stem}.practice.yaml`, `two${stem}.route.yaml`])(
    'Rank Next Skill: why there is none, of %s',
    async (name) => {
      const { rankNextSkill } = await import('../../../client/src/commands/rankNextSkill.ts');
      editor.openInFront(uriOf(name));
      await rankNextSkill(client, routes);
      expectHarmless('showInformationMessage');
    },
  );

  it('an error that has a name in it', async () => {
    const { rankNextSkill } = await import('../../../client/src/commands/rankNextSkill.ts');
    nextError = new Error(hostile);
    await rankNextSkill(client, routes);
    expectHarmless('showErrorMessage');
  });

  it('Compare Routes: names of files, subjects of commits, what git says', async () => {
    const { compareRoutes, compareWithEarlier } =
      await import('../../../client/src/commands/compareRoutes.ts');
    const commits = [{ revision: 'abc123', date: hostile, subject: hostile }];
    const history = (answer: unknown) => ({ commitsOf: () => Promise.resolve(answer) }) as never;
    await compareRoutes(routes, history(commits), undefined);
    await compareWithEarlier(routes, history(commits), undefined);
    await compareWithEarlier(routes, history({ message: hostile }), undefined);
    editor.openInFront(uriOf(`${stem}.practice.yaml`));
    await compareRoutes(routes, undefined, undefined);
    expectHarmless(
      'showQuickPick title',
      'showQuickPick label',
      'showQuickPick description',
      'showInformationMessage',
    );
  });

  it('Log Block: every question, every objection, what was logged', async () => {
    const { logBlock } = await import('../../../client/src/practice/forms.ts');
    editor.person.write = (title) => (title.includes('1 of 3') ? '5' : title.includes('2 of 3') ? '3/4' : '');
    await logBlock(client, routes, undefined);
    expect(editor.shown.filter(({ text }) => /^Logged/.test(text)).length).toBeGreaterThan(0);
    expectHarmless(
      'showQuickPick title',
      'showQuickPick label',
      'showInputBox title',
      'showInformationMessage',
    );
    editor.person.pick = firstOf;
  });

  it('Log Run: what was logged, why nothing was', async () => {
    const { RunPanel } = await import('../../../client/src/practice/runPanel.ts');
    const kept = new Map<string, unknown>();
    const workspaceState = {
      get: (key: string) => kept.get(key),
      update: (key: string, value: unknown) => Promise.resolve(void kept.set(key, value)),
    };
    const context = { extensionUri: editor.Uri.file(folder), workspaceState } as never;
    const runs = new RunPanel(client, routes, context);
    await editor.registered.get('routewright.logRun')!();
    const page = editor.panels.at(-1)!;
    page.say({ type: 'ready' });
    await waitFor(() => expect(page.posted).toHaveLength(1));
    const run = { start: '', total: 'soon', times: [], tried: [], ended: null, on: '' };
    page.say({ type: 'run', run });
    await waitFor(() => expect(page.posted).toHaveLength(2));
    expect(page.posted[1]).toEqual({
      type: 'refused',
      text: 'The total needs a time such as 41:30.2, not soon.',
    });
    const tried = [{ use: 'lamp-hop', landed: 1, tries: 1 }];
    page.say({ type: 'run', run: { ...run, total: '4:00', tried } });
    await waitFor(() => expect(editor.shown.some(({ text }) => /^Logged/.test(text))).toBe(true));
    editor.openInFront(uriOf(`stray${stem}.practice.yaml`));
    await editor.registered.get('routewright.logRun')!();
    expectHarmless('showInformationMessage');
    runs.dispose();
  });

  it('Log Block: why nothing can be logged', async () => {
    const { logBlock } = await import('../../../client/src/practice/forms.ts');
    editor.openInFront(uriOf(`stray${stem}.practice.yaml`));
    await logBlock(client, routes, undefined);
    expectHarmless('showInformationMessage');
  });

  it('a practice block whose view is closed', async () => {
    const { PracticePanel } = await import('../../../client/src/practice/practicePanel.ts');
    const memento = { get: () => undefined, update: () => Promise.resolve() };
    const practice = new PracticePanel(client, routes, {
      workspaceState: memento,
      globalState: memento,
      extensionUri: editor.Uri.file(folder),
    } as never);
    try {
      await editor.registered.get('routewright.startPracticeBlock')!();
      editor.person.press = () => undefined;
      editor.panels.at(-1)!.close();
      await waitFor(() =>
        expect(editor.shown.map(({ text }) => text)).toContainEqual(
          expect.stringMatching(/^The block of .* goes on/),
        ),
      );
      expectHarmless('showQuickPick label', 'showInformationMessage');
    } finally {
      editor.person.press = (_, buttons) => buttons[0];
      practice.dispose();
    }
  });

  it('Create a Route and Open the Sample, where files are there already and where they cannot be written', async () => {
    const { createRoute } = await import('../../../client/src/commands/newRoute.ts');
    const { mkdirSync } = await import('node:fs');
    const named = join(folder, stem);
    mkdirSync(named, { recursive: true });
    editor.workspace.workspaceFolders = [{ uri: editor.Uri.file(named) }];
    editor.person.write = () => hostile;
    await createRoute(client);
    await createRoute(client);
    nextError = new Error(hostile);
    await createRoute(client);
    expectHarmless('showErrorMessage');
  });

  it('whose logs count: the list, and what is said of a route where there is nothing to choose', async () => {
    const { StatusItem } = await import('../../../client/src/views/statusItem.ts');
    editor.openInFront(uriOf(`two${stem}.route.yaml`));
    const item = new StatusItem(client, runners);
    try {
      await runners.choose(uriOf(`two${stem}.route.yaml`));
      await waitFor(() => expect(editor.shown.map(({ where }) => where)).toContain('status item label'));
      expectHarmless(
        'showQuickPick label',
        'showQuickPick description',
        'showQuickPick placeHolder',
        'status item tooltip',
        'status item label',
      );
      await runners.choose(route);
      expect(editor.shown.at(-1)?.text).toBe('The logs of this route name no runner: all of them count.');
    } finally {
      item.dispose();
      editor.openInFront(route);
    }
  });

  it('the item in the status bar', async () => {
    const { StatusItem } = await import('../../../client/src/views/statusItem.ts');
    const item = new StatusItem(client, runners);
    try {
      await waitFor(() => expectHarmless('status item', 'status item tooltip', 'status item label'));
    } finally {
      item.dispose();
    }
  });

  it('what the server itself shows: errors of a rename, lenses', async () => {
    const text = files[`${stem}.route.yaml`].replace('needs: [crate-vault]', `needs: [${q(hostile)}]`);
    await server.client.open(route, text);
    const line = text.split('\n').findIndex((one) => one.includes('needs:'));
    const position = { line, character: text.split('\n')[line]!.indexOf('needs:') + 12 };
    const textDocument = { uri: route };
    for (const method of ['textDocument/prepareRename', 'textDocument/rename']) {
      const error: unknown = await server.client
        .request(method, { textDocument, position, newName: hostile })
        .catch((thrown: unknown) => thrown);
      expect(error).toBeInstanceOf(Error);
      expect((error as Error).message).toContain('command:');
      expect((error as Error).message).not.toMatch(/\]\(|\$\(/);
    }
    const lenses = (await server.client.request('textDocument/codeLens', { textDocument })) as {
      command: { title: string };
    }[];
    const titles = lenses.map(({ command }) => command.title);
    expect(titles.length).toBeGreaterThan(1);
    expect(titles.join('\n')).not.toMatch(/\]\(|\$\(/);
  });
});
