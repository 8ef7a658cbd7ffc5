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
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { tonightRequest } from '../../../server/src/protocol/messages/tonight.ts';
import { showInPanelCommand, type ShowInPanel } from '../../../server/src/protocol/panel/showInPanel.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';
import { startBlock } from '../editor/startBlock.ts';
import { Timer } from '../editor/timer.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';

const viewId = 'routewright.tonight';
const startCommand = 'routewright.startFromTonight';
/** Items with this value have the button Start. */
const blockValue = 'block';

/** Milliseconds without an edit before tonight is asked for again. */
const refreshDelayMs = 700;

/** A row of the view: a block of today, or a line to read before it. */
interface TonightRow {
  readonly label: string;
  readonly text: string;
  /** Of a block: the route's file and the technique. */
  readonly block: { readonly uri: string; readonly technique: string } | undefined;
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
        if (editor && isRoutewrightDocument(editor.document)) this.schedule();
      }),
    );
  }

  getTreeItem({ label, text, block }: TonightRow): TreeItem {
    const item = new TreeItem(label);
    item.description = text;
    item.tooltip = `${label}: ${text}`;
    if (block) {
      item.contextValue = blockValue;
      const look: ShowInPanel = { uri: block.uri, view: 'curve', technique: block.technique };
      item.command = { command: showInPanelCommand, title: l10n.t('Show Its Curve'), arguments: [look] };
    }
    return item;
  }

  async getChildren(row?: TonightRow): Promise<TonightRow[]> {
    if (row) return [];
    const uri = await this.routes.known();
    if (uri === undefined) return [];
    try {
      const answer = await this.client.sendRequest(tonightRequest, { uri });
      if (isRefusal(answer)) return [{ label: l10n.t('No answer'), text: answer.message, block: undefined }];
      const { title, summary, steps, lines } = answer.words;
      this.view.description = title;
      const blocks = steps.map(({ technique, name, text }): TonightRow => ({
        label: name,
        text,
        block: { uri, technique },
      }));
      const nothing: TonightRow = { label: l10n.t('Nothing to practise'), text: summary, block: undefined };
      const read = lines.map(({ label, text }): TonightRow => ({ label, text, block: undefined }));
      return [...(blocks.length > 0 ? blocks : [nothing]), ...read];
    } catch (error) {
      this.client.error('Tonight got no answer.', error, false);
      return [];
    }
  }

  private schedule(): void {
    if (!this.view.visible) return;
    this.refresh.start(refreshDelayMs, () => this.changed.fire(undefined));
  }

  private end(): void {
    this.refresh.stop();
    this.parts.dispose();
  }
}
