import { ProgressLocation, QuickPickItemKind, StatusBarAlignment, window } from 'vscode';
import type {
  CancellationToken,
  InputBoxOptions,
  QuickPickItem,
  QuickPickOptions,
  StatusBarItem,
} from 'vscode';
import { editorText } from '../../../server/src/safeText/editor.ts';

/**
 * Everything that the editor itself shows of ours: messages, lists, input boxes, progress and the status bar. Names
 * from files are part of these texts, and the editor reads some of their characters as links that run a command or as
 * icons; here, and only here, they are made safe (`eslint.config.js` forbids the editor's own functions elsewhere).
 */

/** Shows a message. Resolves with the choice of the person; undefined where they closed it. */
export function showInformation(message: string, ...choices: string[]): Thenable<string | undefined> {
  return window.showInformationMessage(editorText(message), ...choices);
}

/** The same for what the person should know about. */
export function showWarning(message: string, ...choices: string[]): Thenable<string | undefined> {
  return window.showWarningMessage(editorText(message), ...choices);
}

/** The same for what failed. */
export function showError(message: string, ...choices: string[]): Thenable<string | undefined> {
  return window.showErrorMessage(editorText(message), ...choices);
}

type PickOptions = Pick<
  QuickPickOptions,
  'title' | 'placeHolder' | 'matchOnDescription' | 'matchOnDetail' | 'ignoreFocusOut'
>;

/** Lets the person pick an item of a list; undefined where they pick none. */
export async function pick<T extends QuickPickItem>(
  items: readonly T[],
  options: PickOptions,
): Promise<T | undefined> {
  const shown = items.map(safeItem);
  const chosen = await window.showQuickPick(shown, safeOptions(options));
  return chosen && items[shown.indexOf(chosen)];
}

/** Lets the person pick any number of items, none included; undefined where they cancel. */
export async function pickSeveral<T extends QuickPickItem>(
  items: readonly T[],
  options: PickOptions,
): Promise<T[] | undefined> {
  const shown = items.map(safeItem);
  const chosen = await window.showQuickPick(shown, { ...safeOptions(options), canPickMany: true });
  return chosen && items.filter((_, at) => chosen.includes(shown[at]!));
}

/**
 * Asks by a list: the choices, and below them lines to read, which are no answer. Resolves with the choice of the person;
 * undefined where they cancelled. A list is read by the keyboard and by screen readers, and does not stop the editor as a
 * window would.
 */
export async function ask(
  question: string,
  details: readonly string[],
  ...choices: string[]
): Promise<string | undefined> {
  const items: QuickPickItem[] = [
    ...choices.map((label) => ({ label })),
    ...(choices.length > 0 ? [{ label: '', kind: QuickPickItemKind.Separator }] : []),
    ...details.map((label) => ({ label })),
  ];
  for (;;) {
    const chosen = await pick(items, { title: question, ignoreFocusOut: true });
    if (chosen === undefined || choices.includes(chosen.label)) return chosen?.label;
  }
}

function safeItem({ label, kind, description, detail }: QuickPickItem): QuickPickItem {
  return {
    label: editorText(label),
    ...(kind !== undefined && { kind }),
    ...(description !== undefined && { description: editorText(description) }),
    ...(detail !== undefined && { detail: editorText(detail) }),
  };
}

/** Texts around a field or a list. */
interface Captions {
  readonly title?: string;
  readonly prompt?: string;
  readonly placeHolder?: string;
}

function safeOptions<T extends Captions>(options: T): T {
  const { title, prompt, placeHolder } = options;
  return {
    ...options,
    ...(title !== undefined && { title: editorText(title) }),
    ...(prompt !== undefined && { prompt: editorText(prompt) }),
    ...(placeHolder !== undefined && { placeHolder: editorText(placeHolder) }),
  };
}

interface TextOptions extends Pick<
  InputBoxOptions,
  'title' | 'prompt' | 'placeHolder' | 'value' | 'ignoreFocusOut'
> {
  /** What is wrong with the text so far; undefined where nothing is. */
  readonly validateInput: (text: string) => string | undefined | Promise<string | undefined>;
}

/** Asks for a text; undefined where the person cancels. */
export function askText(options: TextOptions): Thenable<string | undefined> {
  return window.showInputBox({
    ...safeOptions(options),
    validateInput: async (text) => {
      const problem = await options.validateInput(text);
      return problem && editorText(problem);
    },
  });
}

/** Shows a text in the status bar for some milliseconds. */
export function showStatus(text: string, ms: number): void {
  window.setStatusBarMessage(editorText(text), ms);
}

/** Shows in the status bar what is being computed, until the work is done. */
export async function withStatusMessage<T>(what: string, work: Promise<T>): Promise<T> {
  window.setStatusBarMessage(`$(loading~spin) ${editorText(what)}…`, work);
  return await work;
}

/** Shows in a notification what is being computed, until the work is done; the person can cancel it. */
export function withProgress<T>(what: string, work: (token: CancellationToken) => Promise<T>): Thenable<T> {
  const options = { location: ProgressLocation.Notification, title: editorText(what), cancellable: true };
  return window.withProgress(options, (_, token) => work(token));
}

/** A text in the status bar with the name of its icon. */
interface StatusPart {
  readonly icon: string;
  readonly text: string;
}

/** An item of the status bar. */
export class StatusBarEntry {
  private readonly item: StatusBarItem;

  /** @param command what a click runs */
  constructor(id: string, name: string, command: string) {
    this.item = window.createStatusBarItem(id, StatusBarAlignment.Left);
    this.item.name = name;
    this.item.command = command;
  }

  /** @param label what a screen reader says */
  show(parts: readonly StatusPart[], tooltip: string, label: string): void {
    this.item.text = parts.map(({ icon, text }) => `$(${icon}) ${editorText(text)}`).join(' ');
    this.item.tooltip = editorText(tooltip);
    this.item.accessibilityInformation = { label: editorText(label), role: 'button' };
    this.item.show();
  }

  hide(): void {
    this.item.hide();
  }

  dispose(): void {
    this.item.dispose();
  }
}
