import { mkdtempSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { TextDocumentEdit, WorkspaceEdit } from 'vscode-languageserver';
import { afterAll } from 'vitest';
import { storageJournals } from '../../../../server/src/journal/storageJournals.ts';
import type { LogJournals } from '../../../../server/src/journal/logJournal.ts';
import { PracticeLogs } from '../../../../server/src/lsp/practice/practiceLogs.ts';
import { noClientFeatures } from '../../../../server/src/lsp/documents/clientFeatures.ts';
import { createServices, type Services } from '../../../../server/src/lsp/server/services.ts';
import { editorJournals } from '../../../../server/src/journal/editorJournals.ts';
import { parseMoment } from '../../../../server/src/text/calendar.ts';
import { nodeFileSource } from '../../../../server/src/workspace/nodeFileSource.ts';
import { harborRoute } from '../editor.ts';

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

/** The date and time of day at every desk. */
export const today = '2026-11-25T19:00';

export const emptyPractice = 'route: a.route.yaml\nsessions: []\n';

/** A folder of files on the disk, and the state folder of its runner. */
export interface Desk {
  readonly folder: string;
  readonly state: string;
  uri(name: string): string;
  disk(name: string): string;
}

export function desk(files: Readonly<Record<string, string>> = {}): Desk {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-practice-'));
  made.push(folder);
  const all = { 'a.route.yaml': harborRoute, 'a.practice.yaml': emptyPractice, ...files };
  for (const [name, text] of Object.entries(all)) writeFileSync(join(folder, name), text);
  const state = join(folder, 'state');
  mkdirSync(state);
  return {
    folder,
    state,
    uri: (name) => pathToFileURL(join(folder, name)).toString(),
    disk: (name) => readFileSync(join(folder, name), 'utf8'),
  };
}

/** Journals in a storage that is one text a file, as on the web. */
export function webJournals(storage = new Map<string, string>()): LogJournals {
  return storageJournals({
    save: (uri, text) => {
      storage.set(uri, text);
      return Promise.resolve(null);
    },
    load: (uri) => Promise.resolve(storage.get(uri) ?? null),
  });
}

/** An editor at a desk: documents that are open, edits that are applied to them, and what was said. */
export interface Sitting {
  readonly services: Services;
  readonly client: { appliesEdits: boolean };
  readonly logs: PracticeLogs;
  readonly told: string[];
  readonly changed: string[];
  /** Refuses so many edits, as where the text has changed meanwhile. */
  refuse: number;
  open(name: string): Promise<void>;
  text(name: string): string;
  /** The user makes the text another. */
  type(name: string, text: string): void;
  save(name: string): Promise<void>;
  /** The editor is killed: nothing is let go of in order. */
  end(): void;
}

export async function sitDown(at: Desk, journals: LogJournals = editorJournals(at.state)): Promise<Sitting> {
  const client = { ...noClientFeatures, appliesEdits: true };
  const services = createServices({
    client,
    source: nodeFileSource(),
    publish: () => undefined,
    events: { published: () => undefined, runGuarded: (_, run) => void run() },
    now: () => parseMoment(today)!,
  });
  services.checks.setToday(today);
  const told: string[] = [];
  const changed: string[] = [];
  const textOf = (uri: string): string => services.documents.text(uri) ?? '';
  const replace = (uri: string, text: string): void =>
    services.sync.change(uri, [{ text }], (services.documents.version(uri) ?? 0) + 1);
  const apply = async ({ documentChanges }: WorkspaceEdit): Promise<boolean> => {
    if (sitting.refuse > 0) {
      sitting.refuse -= 1;
      return false;
    }
    for (const { textDocument, edits } of documentChanges as TextDocumentEdit[]) {
      const { uri, version } = textDocument;
      // As the editor does: a file that is not open is opened for it, and an edit for another version is refused.
      if (services.documents.version(uri) === undefined) await sitting.open(uri.split('/').at(-1)!);
      else if (version !== services.documents.version(uri)) return false;
      const document = TextDocument.create(uri, 'routewright', 0, textOf(uri));
      const plain = edits.flatMap((edit) => ('newText' in edit ? [edit] : []));
      replace(uri, TextDocument.applyEdits(document, plain));
    }
    return true;
  };
  const logs = new PracticeLogs(services, journals, {
    appliesEdits: () => services.client.appliesEdits,
    apply,
    notify: (sentence) => told.push(sentence),
    changed: (uri) => changed.push(uri),
    runGuarded: (_, run) => void run(),
  });
  const sitting: Sitting = {
    services,
    client,
    logs,
    told,
    changed,
    refuse: 0,
    async open(name) {
      const uri = at.uri(name);
      await services.sync.open({ uri, languageId: 'routewright', version: 1, text: at.disk(name) });
      // What opening brings is waited for by nobody in the editor either.
      void logs.opened(uri);
    },
    text: (name) => textOf(at.uri(name)),
    type: (name, text) => replace(at.uri(name), text),
    async save(name) {
      const uri = at.uri(name);
      writeFileSync(join(at.folder, name), textOf(uri));
      await logs.saved(uri, textOf(uri));
    },
    end() {
      logs.dispose();
      services.checks.dispose();
    },
  };
  await services.sync.setFolders([pathToFileURL(at.folder).toString()]);
  await services.sync.ready();
  return sitting;
}

/** Waits until something holds. The test's own time limit ends the wait. */
export async function eventually(look: () => boolean): Promise<void> {
  while (!look()) await new Promise((resolve) => setTimeout(resolve, 20));
}
