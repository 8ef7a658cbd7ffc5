import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { RouteChoice } from '../../../client/src/routes/routeChoice.ts';
import { logEvening, logRun } from '../../../server/src/lsp/practice/completeEntries.ts';
import { runForm } from '../../../server/src/lsp/practice/runForm.ts';
import { neverStopped } from '../lsp/editor.ts';
import { desk, sitDown } from '../lsp/practice/desk.ts';
import * as editor from './fakeEditor.ts';
import { waitFor } from '../../helpers/eventually.ts';

vi.mock('vscode', () => editor);
const { RunPanel } = await import('../../../client/src/practice/runPanel.ts');

const run = { start: '', total: '3:30', times: [], tried: [], ended: null, on: '' };

/** The command on a folder with a route and no log of runs, and the page that it has opened. */
async function openPage() {
  const at = desk();
  const sitting = await sitDown(at);
  const { services, logs } = sitting;
  const asked: string[] = [];
  const handlers: Readonly<Record<string, (params: never) => unknown>> = {
    'routewright/runForm': (params) => runForm(services, params, neverStopped),
    'routewright/logRun': (params) => logRun(services, logs, params),
    'routewright/logEvening': (params) => logEvening(services, logs, params),
  };
  const client = {
    sendRequest: ({ method }: { readonly method: string }, params: never) => {
      asked.push(method.replace('routewright/', ''));
      return Promise.resolve(handlers[method]!(params));
    },
    error: () => undefined,
  } as unknown as BaseLanguageClient;
  const routes = {
    chooseWithRunner: () => Promise.resolve(at.uri('a.route.yaml')),
  } as unknown as RouteChoice;
  const workspaceState = { get: () => undefined, update: () => Promise.resolve() };
  const panel = new RunPanel(client, routes, {
    extensionUri: editor.Uri.file(at.folder),
    workspaceState,
  } as never);
  await editor.registered.get('routewright.logRun')!();
  const page = editor.panels.at(-1)!;
  page.say({ type: 'ready' });
  await waitFor(() => expect(page.posted).toHaveLength(1));
  const file = join(at.folder, 'a.runs.yaml');
  const end = (): void => {
    panel.dispose();
    sitting.end();
  };
  return { page, asked, file, text: () => sitting.text('a.runs.yaml'), end };
}

describe('Log Run, where there is no log of runs yet', () => {
  beforeEach(() => void (editor.shown.length = 0));

  it('asks once what the form needs, and creates no file', async () => {
    const { asked, file, end } = await openPage();
    expect(asked).toEqual(['runForm']);
    expect(existsSync(file)).toBe(false);
    end();
  });

  it('creates the log with the first run that is saved; the run itself is an edit of it', async () => {
    const { page, file, text, end } = await openPage();
    page.say({ type: 'run', run });
    await waitFor(() => expect(editor.shown.some(({ text: said }) => /^Logged/.test(said))).toBe(true));
    expect(readFileSync(file, 'utf8')).toMatch(/^route: a\.route\.yaml\n/);
    expect(readFileSync(file, 'utf8')).not.toContain('3:30');
    expect(text()).toContain('total: 3:30');
    end();
  });

  it('creates none for a run that is refused', async () => {
    const { page, file, end } = await openPage();
    page.say({ type: 'run', run: { ...run, total: 'soon' } });
    await waitFor(() => expect(page.posted).toHaveLength(2));
    expect(page.posted[1]).toMatchObject({ type: 'refused' });
    expect(existsSync(file)).toBe(false);
    end();
  });

  it('asks anew for a page that is loaded again: the route may have changed', async () => {
    const { page, asked, end } = await openPage();
    page.say({ type: 'ready' });
    await waitFor(() => expect(page.posted).toHaveLength(2));
    expect(asked).toEqual(['runForm', 'runForm']);
    end();
  });
});
