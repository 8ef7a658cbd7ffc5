import type { StopSignal } from '../../../server/src/lsp/documents/eventLoop.ts';
import type { Location, Position, PublishDiagnosticsParams, Range, TextEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { noClientFeatures, type ClientFeatures } from '../../../server/src/lsp/documents/clientFeatures.ts';
import { createServices, type Services } from '../../../server/src/lsp/server/services.ts';
import { parseMoment } from '../../../server/src/text/calendar.ts';
import { memoryFileSource } from '../../../server/src/workspace/fileSource.ts';
import { afterAllLogs } from '../../helpers/lastDay.ts';

const folder = 'file:///w';

/** Where the cursor is in a text of a test; no part of the text. */
export const cursor = '‸';

/** A route that shows every sort of reference; logs and a week may stand beside it. */
export const harborRoute = `game: Lanternfall
category: any%
segments:
  - id: harbor
    name: Harbor gate
    time: 1:30
    techniques:
      - crate-vault
      - { use: lamp-clip, id: second, spot: gate, backup: lamp-hop }
  - id: rope-yard
    time: 2:08
    techniques: [lamp-hop]
techniques:
  crate-vault: { name: Crate vault, difficulty: 3, saves: 3, loses: 1, was: [box-jump] }
  lamp-clip:
    name: Lamp clip
    difficulty: 6
    saves: 9..16
    loses: 9
    needs: [lamp-hop]
  lamp-hop: { difficulty: 2, saves: 1.5, loses: 1 }
`;

/** An editor with a folder of files in memory, the one with the cursor in front. */
export interface Editor {
  readonly services: Services;
  /** What the client can do; a test may say that it can do more. */
  readonly client: { -readonly [K in keyof ClientFeatures]: ClientFeatures[K] };
  /** The file with the cursor, or the first one. */
  readonly uri: string;
  readonly position: Position;
  /** What requests about the cursor are asked with. */
  readonly params: { readonly textDocument: { readonly uri: string }; readonly position: Position };
  readonly published: readonly PublishDiagnosticsParams[];
  text(name: string): string;
  /** Another program writes a file; nobody is told. */
  write(name: string, text: string): void;
}

/**
 * Opens the files, by name, in a new server; all of them lie in one folder and those in `open` are open too.
 *
 * @param options.today the date that the client sends; left out: `last`, or none where `now` is given
 * @param options.now what the server's own clock shows
 * @param options.open left out: the file with the cursor
 */
export async function openEditor(
  files: Readonly<Record<string, string>>,
  options: {
    readonly today?: string;
    readonly now?: string;
    readonly open?: readonly string[];
  } = {},
): Promise<Editor> {
  const names = Object.keys(files);
  const front = names.find((name) => files[name]!.includes(cursor)) ?? names[0]!;
  const plain = Object.fromEntries(names.map((name) => [name, files[name]!.replace(cursor, '')]));
  const published: PublishDiagnosticsParams[] = [];
  const onDisk = { ...plain };
  const disk = () =>
    memoryFileSource(Object.fromEntries(Object.entries(onDisk).map(([name, text]) => [uriOf(name), text])));
  const client = { ...noClientFeatures };
  const services = createServices({
    client,
    source: {
      list: (of) => disk().list(of),
      read: (uri, within) => disk().read(uri, within),
    },
    publish: (params) => published.push(params),
    events: { published: () => undefined, runGuarded: (_, run) => void run() },
    now: () => (options.now === undefined ? afterAllLogs : parseMoment(options.now)!),
  });
  const { sync, checks } = services;
  checks.setToday(options.now === undefined ? (options.today ?? 'last') : options.today);
  await sync.setFolders([folder]);
  for (const name of options.open ?? [front])
    await sync.open({
      uri: uriOf(name),
      languageId: 'routewright',
      version: 1,
      text: plain[name]!,
    });
  await sync.ready();
  checks.checkPendingEdits();
  const document = TextDocument.create(uriOf(front), 'routewright', 1, plain[front]!);
  const position = document.positionAt(Math.max(0, files[front]!.indexOf(cursor)));
  return {
    services,
    client,
    uri: uriOf(front),
    position,
    params: { textDocument: { uri: uriOf(front) }, position },
    published,
    text: (name) => plain[name]!,
    write: (name, text) => void (onDisk[name] = text),
  };
}

/** Work that goes on until it is done. */
export const neverStopped: StopSignal = { isCancellationRequested: false };

/** Work that stops as soon as it can. */
export const stoppedAtOnce: StopSignal = { isCancellationRequested: true };

/** Computes the numbers between the lines of every route, as a pause after an edit does. */
export async function updateEstimates({ services }: Editor): Promise<void> {
  const { workspace, inlineEstimates } = services;
  for (const project of workspace.groups().projects) await inlineEstimates.update(project, neverStopped);
}

export function uriOf(name: string): string {
  return `${folder}/${name}`;
}

/** The text of a range, so that a test can say what is meant by what is written there. */
export function textIn(text: string, range: Range): string {
  return TextDocument.create('file:///t', 'routewright', 1, text).getText(range);
}

export function edited(text: string, edits: TextEdit[]): string {
  return TextDocument.applyEdits(TextDocument.create('file:///t', 'routewright', 1, text), edits);
}

/** `name:line:character word` of a location, counted from 0. */
export function shown(editor: Editor, { uri, range }: Location): string {
  const name = uri.slice(folder.length + 1);
  const { line, character } = range.start;
  return `${name}:${line}:${character} ${textIn(editor.text(name), range)}`;
}
