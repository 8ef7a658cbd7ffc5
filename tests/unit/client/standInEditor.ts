/**
 * A stand-in for the editor's API, for tests of commands without an editor: it keeps what a person would see, and answers
 * as the test says. Commands are given a client that asks a server in memory.
 */
import type { BaseLanguageClient } from 'vscode-languageclient';
import { inOneGo } from '../../../server/src/incremental/steps.ts';
import { rankHandler } from '../../../server/src/lsp/requests/rank.ts';
import { setStateHandler, swapHandler } from '../../../server/src/lsp/requests/setState.ts';
import { tonightHandler } from '../../../server/src/lsp/requests/tonight.ts';
import { rankRequest } from '../../../server/src/protocol/messages/rank.ts';
import { tonightRequest } from '../../../server/src/protocol/messages/tonight.ts';
import { setStateRequest, swapRequest } from '../../../server/src/protocol/messages/week.ts';
import type { Editor } from '../lsp/editor.ts';

/** A row of a list to choose from, as far as tests look at it. */
export interface ShownRow {
  readonly label: string;
  readonly description?: string;
  readonly detail?: string;
  readonly kind?: number;
}

/** What the person saw, in order, and what they answer. */
export interface Seen {
  readonly messages: { readonly text: string; readonly buttons: readonly string[] }[];
  readonly lists: { readonly title: string; readonly rows: readonly ShownRow[] }[];
  /** Ids of requests in the order in which they were sent, with their params. */
  readonly requests: { readonly method: string; readonly params: unknown }[];
  /** The row chosen from a list; left out: none. */
  choose?: (rows: readonly ShownRow[]) => ShownRow | undefined;
  /** The button pressed on a message; left out: none. */
  press?: (buttons: readonly string[]) => string | undefined;
}

export function nothingSeen(): Seen {
  return { messages: [], lists: [], requests: [] };
}

/**
 * The module that commands import as `vscode`.
 *
 * @param seen gives what the running test has seen so far
 */
export function standInEditor(seen: () => Seen, uri: string): Record<string, unknown> {
  const say = (text: string, ...buttons: string[]): Promise<string | undefined> => {
    seen().messages.push({ text, buttons });
    return Promise.resolve(seen().press?.(buttons));
  };
  const column = { viewColumn: 1, tabs: [] };
  const token = { isCancellationRequested: false };
  const document = { uri: { scheme: 'file', path: uri.slice('file://'.length), toString: () => uri } };
  return {
    l10n: {
      t: (text: string, ...parts: string[]) =>
        text.replace(/\{(\d+)\}/g, (_, place: string) => parts[Number(place)] ?? ''),
    },
    commands: { executeCommand: () => Promise.resolve(undefined) },
    ProgressLocation: { Notification: 15 },
    QuickPickItemKind: { Separator: -1, Default: 0 },
    ViewColumn: { One: 1 },
    Uri: { parse: (text: string) => ({ toString: () => text }) },
    Range: class {},
    WorkspaceEdit: class {
      replace(): void {}
    },
    workspace: {
      workspaceFolders: [],
      // The week file is on the disk only: the edit is for a file that no editor has a version of.
      openTextDocument: () => Promise.resolve({ version: null }),
      applyEdit: () => Promise.resolve(true),
    },
    window: {
      activeTextEditor: { document },
      visibleTextEditors: [],
      tabGroups: { all: [column], activeTabGroup: column },
      withProgress: (_: unknown, work: (progress: unknown, asked: unknown) => unknown) => work({}, token),
      showInformationMessage: say,
      showErrorMessage: say,
      showTextDocument: () => Promise.resolve({}),
      showQuickPick: (rows: readonly ShownRow[], { title }: { readonly title: string }) => {
        seen().lists.push({ title, rows });
        return Promise.resolve(seen().choose?.(rows));
      },
    },
  };
}

/** A client whose server is in memory. @param fails the requests that fail, by method */
export function clientOf(
  { services }: Editor,
  seen: () => Seen,
  fails: Readonly<Record<string, string>> = {},
): BaseLanguageClient {
  const handlers: Readonly<Record<string, (params: never) => unknown>> = {
    [rankRequest.method]: inOneGo(rankHandler(services)),
    [tonightRequest.method]: inOneGo(tonightHandler(services)),
    [setStateRequest.method]: setStateHandler(services),
    [swapRequest.method]: swapHandler(services),
  };
  const client = {
    error: () => undefined,
    sendRequest: ({ method }: { readonly method: string }, params: never): Promise<unknown> => {
      seen().requests.push({ method, params });
      const failure = fails[method];
      if (failure !== undefined) return Promise.reject(new Error(failure));
      return Promise.resolve(handlers[method]?.(params));
    },
  };
  return client as unknown as BaseLanguageClient;
}
