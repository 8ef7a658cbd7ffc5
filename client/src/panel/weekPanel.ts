import { l10n, type Uri } from 'vscode';
import {
  commands,
  Disposable,
  ViewColumn,
  window,
  workspace,
  type ExtensionContext,
  type WebviewPanel,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { showInPanelCommand, type ShowInPanel } from '../../../server/src/protocol/messages.ts';
import {
  filesReadNotification,
  storedPanelStateShape,
  type StoredPanelState,
} from '../../../server/src/protocol/panel.ts';
import { visibleRouteFile } from './visibleRouteFile.ts';
import { panelFolder, panelHtml } from './panelHtml.ts';
import { PanelController } from './panelController.ts';
import { isRoutewrightDocument } from '../server/selector.ts';

const viewType = 'routewright.week';

/** The panel beside the route: opens it, keeps it on the route in front, and brings it back after a restart. */
export class WeekPanel extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly extension: Uri;
  private readonly listeners: Disposable;
  private open: { readonly panel: WebviewPanel; readonly talk: PanelController } | undefined;

  constructor(client: BaseLanguageClient, { extensionUri }: ExtensionContext) {
    super(() => this.end());
    this.client = client;
    this.extension = extensionUri;
    this.listeners = Disposable.from(
      commands.registerCommand('routewright.previewWeek', () => this.show()),
      commands.registerCommand(showInPanelCommand, (asked: ShowInPanel) => this.showAt(asked)),
      window.registerWebviewPanelSerializer(viewType, {
        deserializeWebviewPanel: (panel, stored: unknown) => {
          this.adopt(panel, storedPanelStateShape.fits(stored) ? stored : undefined);
          return Promise.resolve();
        },
      }),
      window.onDidChangeActiveTextEditor((editor) => {
        if (editor && isRoutewrightDocument(editor.document))
          this.open?.talk.follow(editor.document.uri.toString());
      }),
      // Asked at once, behind the edit itself, so that the panel need not wait for the checks that follow an edit.
      workspace.onDidChangeTextDocument(({ document }) => {
        if (this.open && isRoutewrightDocument(document)) setTimeout(() => this.open?.talk.refresh(), 0);
      }),
      client.onNotification(filesReadNotification, () => this.open?.talk.refreshAfterReading()),
    );
  }

  private async show(): Promise<void> {
    const uri = visibleRouteFile();
    if (this.open) {
      if (uri !== undefined) this.open.talk.follow(uri);
      this.open.panel.reveal(undefined, false);
      return;
    }
    if (uri === undefined) {
      await window.showInformationMessage(
        l10n.t(
          'The week needs a route. Open a route, practice, runs or week file, then run the command again.',
        ),
      );
      return;
    }
    this.create(false);
  }

  /** Opens the panel at a view, as a lens asks for; the keyboard stays in the text. */
  private showAt({ uri, view, technique }: ShowInPanel): void {
    if (this.open) this.open.panel.reveal(undefined, true);
    else this.create(true);
    this.open?.talk.follow(uri);
    this.open?.talk.look(view, technique);
  }

  private create(preserveFocus: boolean): void {
    const place = { viewColumn: ViewColumn.Beside, preserveFocus };
    this.adopt(window.createWebviewPanel(viewType, l10n.t('Week'), place, {}), undefined);
  }

  /** Takes over a panel, new or brought back. */
  private adopt(panel: WebviewPanel, stored: StoredPanelState | undefined): void {
    this.open?.panel.dispose();
    const { webview } = panel;
    webview.options = { enableScripts: true, localResourceRoots: [panelFolder(this.extension)] };
    const talk = new PanelController(this.client, panel, stored?.uri ?? visibleRouteFile(), stored);
    const open = { panel, talk };
    this.open = open;
    panel.onDidDispose(() => {
      talk.dispose();
      if (this.open === open) this.open = undefined;
    });
    webview.html = panelHtml(webview, this.extension);
  }

  private end(): void {
    this.open?.panel.dispose();
    this.listeners.dispose();
  }
}
