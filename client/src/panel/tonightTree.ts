import {
  commands,
  Disposable,
  EventEmitter,
  l10n,
  TreeItem,
  window,
  workspace,
  type TreeDataProvider,
  type TreeView,
  type Uri,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { tonightRequest } from '../../../server/src/protocol/messages/tonight.ts';
import { showInPanelCommand, type ShowInPanel } from '../../../server/src/protocol/panel/showInPanel.ts';
import type { TonightView } from '../../../server/src/protocol/panel/tonightView.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { failureSentence } from '../editor/notices.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';
import { startBlock } from '../editor/startBlock.ts';
import { Timer } from '../editor/timer.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { fileNameOf, workspaceRoutes } from '../routes/routeFiles.ts';

const viewId = 'routewright.tonight';
const startCommand = 'routewright.startFromTonight';
/** Items with this value have the button Start. */
const blockValue = 'block';

/** Milliseconds without an edit before tonight is asked for again. */
const refreshDelayMs = 700;

/** A row of the view: a block of today, a route to open, or a line to read. */
interface TonightRow {
  readonly label: string;
  readonly text: string;
  /** Of a block: the route's file and the technique. */
  readonly block?: { readonly uri: string; readonly technique: string };
  /** The file that a click opens. */
  readonly route?: Uri;
}

/** Tonight in the side bar: the blocks of today, each with a button that starts it, and the lines to read before. */
export class TonightTree extends Disposable implements TreeDataProvider<TonightRow> {
  private readonly client: BaseLanguageClient;
  private readonly routes: RouteChoice;
  private readonly changed = new EventEmitter<undefined>();
  readonly onDidChangeTreeData = this.changed.event;
  private readonly view: TreeView<TonightRow>;
  private readonly parts: Disposable;
  private readonly refresh = new Timer();
  /** Whether the view shows its welcome, which says that there is no route. */
  private isEmpty = false;

  constructor(client: BaseLanguageClient, routes: RouteChoice) {
    super(() => this.end());
    this.client = client;
    this.routes = routes;
    this.view = window.createTreeView(viewId, { treeDataProvider: this });
    this.parts = Disposable.from(
      this.changed,
      this.view,
      commands.registerCommand(startCommand, (row: TonightRow | undefined) =>
        row?.block ? startBlock(row.block.uri, row.block.technique) : undefined,
      ),
      // A view that is not seen is asked for when it is opened.
      this.view.onDidChangeVisibility(({ visible }) => {
        if (visible) this.changed.fire(undefined);
      }),
      workspace.onDidChangeTextDocument(({ document }) => {
        if (isRoutewrightDocument(document)) this.schedule();
      }),
      window.onDidChangeActiveTextEditor((editor) => {
        // Nothing is being typed: another file may be of another route, or the first of all.
        if (editor && isRoutewrightDocument(editor.document)) this.schedule(0);
      }),
    );
  }

  /** The server has read the files again: one of them may have changed on the disk. */
  refreshAfterReading(): void {
    this.schedule();
  }

  getTreeItem({ label, text, block, route }: TonightRow): TreeItem {
    const item = new TreeItem(label);
    item.description = text;
    item.tooltip = text === '' ? label : `${label}: ${text}`;
    if (block) {
      item.contextValue = blockValue;
      const look: ShowInPanel = { uri: block.uri, view: 'curve', technique: block.technique };
      item.command = { command: showInPanelCommand, title: l10n.t('Show Its Curve'), arguments: [look] };
    }
    if (route) item.command = { command: 'vscode.open', title: l10n.t('Open the Route'), arguments: [route] };
    return item;
  }

  async getChildren(row?: TonightRow): Promise<TonightRow[]> {
    if (row) return [];
    if (this.isEmpty && (await this.routes.known()) !== undefined) {
      // The welcome is no longer true, and the answer takes a moment.
      this.isEmpty = false;
      this.schedule(0);
      return [{ label: l10n.t('Working out what to practise…'), text: '' }];
    }
    const { title, rows } = await this.shown();
    this.view.description = title;
    this.isEmpty = rows.length === 0;
    return rows;
  }

  /** The title of the evening, empty where there is none, and the rows. */
  private async shown(): Promise<{ readonly title: string; readonly rows: TonightRow[] }> {
    const uri = await this.routes.known();
    if (uri === undefined) {
      const routes = await workspaceRoutes();
      // One that has just been made is the only one by now.
      return routes.length === 1 ? this.shown() : { title: '', rows: routeRows(routes) };
    }
    try {
      const answer = await this.client.sendRequest(tonightRequest, { uri });
      if (isRefusal(answer)) return noAnswer(answer.message);
      return { title: answer.words.title, rows: tonightRows(uri, answer.words) };
    } catch (error) {
      this.client.error('Tonight got no answer.', error, false);
      return noAnswer(failureSentence(error));
    }
  }

  private schedule(delayMs = refreshDelayMs): void {
    if (!this.view.visible) return;
    this.refresh.start(delayMs, () => this.changed.fire(undefined));
  }

  private end(): void {
    this.refresh.stop();
    this.parts.dispose();
  }
}

/** The routes to choose from. Where there is none, there is no row either: the view then shows its welcome. */
function routeRows(routes: readonly Uri[]): TonightRow[] {
  if (routes.length === 0) return [];
  const ask = {
    label: l10n.t('Which route?'),
    text: l10n.t('Open one of them to see what to practise today.'),
  };
  return [ask, ...routes.map((route) => ({ label: fileNameOf(route), text: folderOf(route), route }))];
}

/** The folder of a file, as the editor names it; empty where the file is in no folder below the open one. */
function folderOf(file: Uri): string {
  const path = workspace.asRelativePath(file);
  return path.slice(0, Math.max(0, path.length - fileNameOf(file).length - 1));
}

function tonightRows(uri: string, { whyNothing, steps, lines }: TonightView): TonightRow[] {
  const blocks = steps.map(({ technique, name, text }): TonightRow => ({
    label: name,
    text,
    block: { uri, technique },
  }));
  const nothing: TonightRow = { label: l10n.t('Nothing to practise'), text: whyNothing };
  return [...(blocks.length > 0 ? blocks : [nothing]), ...lines.map(({ label, text }) => ({ label, text }))];
}

function noAnswer(text: string): { readonly title: string; readonly rows: TonightRow[] } {
  return { title: '', rows: [{ label: l10n.t('No answer'), text }] };
}
