import { existsSync } from 'node:fs';
import { mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { URI, Utils } from 'vscode-uri';

/**
 * An editor without a window, in place of the module `vscode`: it answers what the extension asks and remembers every
 * text that it would have shown. Only what the extension's commands use is here.
 */

/** Every text that was shown, with the place where: `showQuickPick label`. */
export const shown: { readonly where: string; readonly text: string }[] = [];

/** What the person does; a test replaces what it needs. */
export const person = {
  /** Which item of a list they pick; undefined: none. */
  pick: (items: readonly Item[]): Item | undefined => items.find(({ kind }) => kind !== -1),
  /** What they write into a field. */
  write: (_title: string): string | undefined => 'x',
  /** Which button of a message they press. */
  press: (_message: string, buttons: readonly string[]): string | undefined => buttons[0],
};

export interface Item {
  readonly label: string;
  readonly kind?: number;
}

const texts = ['title', 'prompt', 'placeHolder', 'label', 'description', 'detail'] as const;

function remember(where: string, value: unknown): void {
  if (typeof value === 'string') shown.push({ where, text: value });
  else if (Array.isArray(value)) for (const one of value) remember(where, one);
  else if (typeof value === 'object' && value !== null)
    for (const name of texts) remember(`${where} ${name}`, (value as Record<string, unknown>)[name]);
}

function message(where: string) {
  return (text: string, ...buttons: string[]) => {
    remember(where, text);
    return Promise.resolve(buttons.length > 0 ? person.press(text, buttons) : undefined);
  };
}

class Disposable {
  readonly dispose: () => void;

  constructor(end: () => void) {
    this.dispose = end;
  }

  static from(...parts: { dispose(): void }[]): Disposable {
    return new Disposable(() => parts.forEach((part) => part.dispose()));
  }
}

class Range {
  readonly places: readonly number[];

  constructor(...places: number[]) {
    this.places = places;
  }
}

class EventEmitter {
  private readonly listeners = new Set<(value: unknown) => void>();
  readonly event = (tell: (value: unknown) => void) => {
    this.listeners.add(tell);
    return new Disposable(() => this.listeners.delete(tell));
  };
  fire(value: unknown): void {
    for (const tell of this.listeners) tell(value);
  }
  dispose(): void {
    this.listeners.clear();
  }
}

/** A row of a tree. */
export class TreeItem {
  readonly label: string;
  description = '';
  command: { readonly command: string; readonly arguments: readonly unknown[] } | undefined;

  constructor(label: string) {
    this.label = label;
  }
}

class WorkspaceEdit {
  readonly created: { readonly uri: URI; readonly contents: Uint8Array }[] = [];

  createFile(uri: URI, { contents }: { readonly contents: Uint8Array }): void {
    this.created.push({ uri, contents });
  }

  replace(): void {}
}

/** The document in front, as far as the extension looks. */
export function openInFront(uri: string): void {
  window.activeTextEditor = { document: { uri: URI.parse(uri) } };
}

/** The commands that were registered. */
export const registered = new Map<string, () => unknown>();
/** The pages that were opened. */
export const panels: {
  title: string;
  close(): void;
  /** Sends the extension a message of the page. */
  say(message: unknown): void;
  /** What the extension sent to the page. */
  readonly posted: readonly unknown[];
}[] = [];

/** A column of editors with its tabs. */
export interface Column {
  readonly viewColumn: number;
  readonly tabs: readonly { readonly input: object | undefined }[];
}

const column: Column = { viewColumn: 1, tabs: [] };

export const commands = {
  registerCommand(name: string, run: () => unknown) {
    registered.set(name, run);
    return new Disposable(() => undefined);
  },
  executeCommand: () => Promise.resolve(undefined),
};

export const window = {
  activeTextEditor: undefined as { readonly document: { readonly uri: URI } } | undefined,
  visibleTextEditors: [],
  tabGroups: { all: [column], activeTabGroup: column } as {
    all: readonly Column[];
    activeTabGroup: Column;
  },
  onDidChangeActiveTextEditor: () => new Disposable(() => undefined),
  createTreeView: () => ({
    visible: true,
    description: '',
    onDidChangeVisibility: () => new Disposable(() => undefined),
    dispose: () => undefined,
  }),
  registerWebviewPanelSerializer: () => new Disposable(() => undefined),
  showInformationMessage: message('showInformationMessage'),
  showWarningMessage: message('showWarningMessage'),
  showErrorMessage: message('showErrorMessage'),
  setStatusBarMessage: (text: string) => remember('setStatusBarMessage', text),
  showQuickPick(items: readonly Item[], options: { readonly canPickMany?: boolean }) {
    remember('showQuickPick', options);
    remember('showQuickPick', items);
    const chosen = person.pick(items);
    return Promise.resolve(options.canPickMany ? (chosen ? [chosen] : []) : chosen);
  },
  async showInputBox(options: {
    readonly title?: string;
    readonly validateInput?: (text: string) => unknown;
  }) {
    remember('showInputBox', options);
    const text = person.write(options.title ?? '');
    for (const tried of [text ?? '', '[x](command:y) $(gear)'])
      remember('showInputBox problem', await options.validateInput?.(tried));
    return text;
  },
  showOpenDialog: () => Promise.resolve(undefined),
  withProgress(options: object, work: (progress: object, token: object) => unknown) {
    remember('withProgress', options);
    return Promise.resolve(work({}, { isCancellationRequested: false }));
  },
  createStatusBarItem: () => ({
    set text(text: string) {
      remember('status item', text);
    },
    set tooltip(text: string) {
      remember('status item tooltip', text);
    },
    set accessibilityInformation(value: object) {
      remember('status item', value);
    },
    show: () => undefined,
    hide: () => undefined,
    dispose: () => undefined,
  }),
  showTextDocument: () => Promise.resolve({ revealRange: () => undefined }),
  createWebviewPanel(_type: string, title: string) {
    const closed: (() => void)[] = [];
    const posted: unknown[] = [];
    let hear: (message: unknown) => void = () => undefined;
    const panel = {
      posted,
      say: (message: unknown) => hear(message),
      title,
      visible: true,
      active: true,
      onDidChangeViewState: () => new Disposable(() => undefined),
      reveal: () => undefined,
      close: () => closed.forEach((tell) => tell()),
      dispose: () => undefined,
      onDidDispose: (tell: () => void) => void closed.push(tell),
      webview: {
        cspSource: '',
        html: '',
        options: {},
        asWebviewUri: (uri: URI) => uri,
        onDidReceiveMessage(take: (message: unknown) => void) {
          hear = take;
          return new Disposable(() => undefined);
        },
        postMessage: (message: unknown) => Promise.resolve(posted.push(message) > 0),
      },
    };
    panels.push(panel);
    return panel;
  },
};

export const workspace = {
  workspaceFolders: [] as { readonly uri: URI }[],
  isTrusted: true,
  textDocuments: [],
  getWorkspaceFolder: () => workspace.workspaceFolders[0],
  asRelativePath: (uri: URI) => uri.path.slice(uri.path.lastIndexOf('/') + 1),
  onDidChangeTextDocument: () => new Disposable(() => undefined),
  onDidSaveTextDocument: () => new Disposable(() => undefined),
  getConfiguration: () => ({ get: (_key: string, otherwise: unknown): unknown => otherwise }),
  registerTextDocumentContentProvider: () => new Disposable(() => undefined),
  openTextDocument: (uri: URI) => Promise.resolve({ uri, version: 1 }),
  async findFiles() {
    const [folder] = workspace.workspaceFolders;
    const names = await readdir(folder!.uri.fsPath);
    return names
      .filter((name) => name.endsWith('.route.yaml'))
      .map((name) => Uri.joinPath(folder!.uri, name));
  },
  async applyEdit({ created }: WorkspaceEdit) {
    for (const { uri, contents } of created) {
      if (existsSync(uri.fsPath)) return false;
      await mkdir(dirname(uri.fsPath), { recursive: true });
      await writeFile(uri.fsPath, contents);
    }
    return true;
  },
  fs: {
    stat: (uri: URI) => stat(uri.fsPath),
    readFile: (uri: URI) => readFile(uri.fsPath),
    writeFile: (uri: URI, bytes: Uint8Array) => writeFile(uri.fsPath, bytes),
  },
};

export const Uri = Object.assign(URI, { joinPath: Utils.joinPath });
export const l10n = {
  t: (text: string, ...values: (string | number)[]) =>
    text.replace(/\{(\d+)\}/g, (whole, at: string) => String(values[Number(at)] ?? whole)),
};
export const QuickPickItemKind = { Separator: -1, Default: 0 };
export const ProgressLocation = { Notification: 15 };
export const StatusBarAlignment = { Left: 1 };
export const ViewColumn = { One: 1, Beside: -2 };
export const FileType = { File: 1, Directory: 2 };
export class TabInputText {}
export { Disposable, EventEmitter, Range, WorkspaceEdit };
