import assert from 'node:assert/strict';
import {
  extensions,
  languages,
  Range,
  TabInputWebview,
  Uri,
  window,
  workspace,
  type Diagnostic,
  type Event,
  type Position,
  type Tab,
  type TextDocument,
} from 'vscode';
import type { Mark } from './marked.ts';

const LIMIT_MS = 120_000;

/** The folder of the extension under test. */
export function extensionFolder(): string {
  return ours().extensionPath;
}

/** Waits until the extension is active; its server has been started then. */
export async function started(): Promise<void> {
  await ours().activate();
}

function ours() {
  const extension = extensions.getExtension('routewright.routewright');
  assert.ok(extension, 'The extension is not installed in this editor.');
  return extension;
}

/** The address of a file of the workspace. */
export function fileUri(...path: readonly string[]): Uri {
  const [folder] = workspace.workspaceFolders ?? [];
  assert.ok(folder, 'No folder is open.');
  return Uri.joinPath(folder.uri, ...path);
}

/** Opens a file of the workspace in the active editor. */
export async function show(...path: readonly string[]): Promise<TextDocument> {
  const { document } = await window.showTextDocument(await workspace.openTextDocument(fileUri(...path)));
  return document;
}

/**
 * Calls `look` now and after every event until it returns a value.
 *
 * @param look returns undefined while there is no value yet
 * @param failure gives the message where no value came within 15 s; called only then, so that it can describe the state
 */
export async function until<T>(
  event: Event<unknown>,
  look: () => T | undefined,
  failure: () => string,
): Promise<T> {
  return new Promise((resolve, reject) => {
    const end = (): void => {
      clearTimeout(limit);
      listener.dispose();
    };
    const check = (): void => {
      const found = look();
      if (found === undefined) return;
      end();
      resolve(found);
    };
    const limit = setTimeout(() => {
      end();
      reject(new Error(failure()));
    }, LIMIT_MS);
    const listener = event(check);
    check();
  });
}

/** Waits until exactly the marked findings are shown for a file, and returns them in the order of the text. */
export async function diagnosticsAt(uri: Uri, marks: readonly Mark[]): Promise<Diagnostic[]> {
  const wanted = marks.map(({ code, start, end }) => `${code} ${start.join(':')} to ${end.join(':')}`);
  const shown = (): string[] => inOrder(uri).map(written);
  return until(
    languages.onDidChangeDiagnostics,
    () => (shown().join('\n') === wanted.join('\n') ? inOrder(uri) : undefined),
    () => `In ${uri.path} there should be\n${wanted.join('\n')}\nand there is\n${shown().join('\n')}`,
  );
}

function inOrder(uri: Uri): Diagnostic[] {
  return [...languages.getDiagnostics(uri)].sort((a, b) => a.range.start.compareTo(b.range.start));
}

function written({ code, range: { start, end } }: Diagnostic): string {
  const name = typeof code === 'object' ? code.value : code;
  return `${name} ${start.line}:${start.character} to ${end.line}:${end.character}`;
}

/** The place of the first occurrence of some words, counted from where `after` stands. */
export function rangeOf(document: TextDocument, words: string, after = ''): Range {
  const text = document.getText();
  const from = text.indexOf(after);
  const start = text.indexOf(words, from);
  assert.ok(from >= 0 && start >= 0, `"${words}" does not stand after "${after}" in ${document.fileName}.`);
  return new Range(document.positionAt(start), document.positionAt(start + words.length));
}

/** The middle of the first occurrence of some words, counted from where `after` stands. */
export function within(document: TextDocument, words: string, after = ''): Position {
  const { start } = rangeOf(document, words, after);
  return start.translate(0, Math.floor(words.length / 2));
}

/** Whether a tab is that of the panel beside the route. */
export function isPanel({ input }: Tab): boolean {
  return input instanceof TabInputWebview && input.viewType.endsWith('routewright.week');
}

/** Waits until the panel beside the route has a name: that of the view that it shows. */
export async function panelNamed(name: RegExp): Promise<void> {
  const labels = (): string[] =>
    window.tabGroups.all.flatMap(({ tabs }) => tabs.filter(isPanel).map(({ label }) => label));
  await until(
    window.tabGroups.onDidChangeTabs,
    () => labels().find((label) => name.test(label)),
    () => `No panel is named ${name}, but ${labels().join(' and ')}.`,
  );
}
