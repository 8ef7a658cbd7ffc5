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
import { filesReadNotification } from '../../../server/src/protocol/messages/findings.ts';
import {
  storedPanelStateShape,
  type StoredPanelState,
} from '../../../server/src/protocol/panel/pageMessages.ts';
import {
  showInPanelCommand,
  showInPanelShape,
  type ShowInPanel,
} from '../../../server/src/protocol/panel/showInPanel.ts';
import { visibleRouteFile } from '../editor/visibleRouteFile.ts';
import { completeStep } from '../routes/firstSteps.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { PanelController } from './panelController.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';
import { takeNotification } from '../../../server/src/protocol/messages/message.ts';
import { Timer } from '../editor/timer.ts';
import { readStored } from '../webview/storedState.ts';

const viewType = 'routewright.week';

/**
 * The panel beside the route: opens it, follows the active editor to another route, and restores it after a restart.
 */
export class WeekPanel extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly routes: RouteChoice;
  private readonly extension: Uri;
  private readonly listeners: Disposable;
  private open: { readonly panel: WebviewPanel; readonly controller: PanelController } | undefined;
  /** Delays asking for new numbers after an edit. */
  private readonly refresh = new Timer();

  constructor(client: BaseLanguageClient, routes: RouteChoice, { extensionUri }: ExtensionContext) {
    super(() => this.end());
    this.client = client;
    this.routes = routes;
    this.extension = extensionUri;
    this.listeners = Disposable.from(
      commands.registerCommand('routewright.previewWeek', (calledOn: unknown) => this.show(calledOn)),
      commands.registerCommand(showInPanelCommand, (argument: unknown) => {
        if (showInPanelShape.fits(argument)) this.showAt(argument);
      }),
      window.registerWebviewPanelSerializer(viewType, {
        deserializeWebviewPanel: (panel, stored: unknown) => {
          this.adopt(panel, readStored(storedPanelStateShape, stored));
          return Promise.resolve();
        },
      }),
      window.onDidChangeActiveTextEditor((editor) => {
        if (editor && isRoutewrightDocument(editor.document))
          this.open?.controller.follow(editor.document.uri.toString());
      }),
      // Asked right after the edit was sent, so that the panel does not wait for the checks that follow an edit.
      workspace.onDidChangeTextDocument(({ document }) => {
        if (this.open && isRoutewrightDocument(document))
          this.refresh.start(0, () => this.open?.controller.refresh());
      }),
      takeNotification(client, filesReadNotification, () => this.open?.controller.refreshAfterReading()),
    );
  }

  private async show(calledOn: unknown): Promise<void> {
    const uri = await this.routes.choose(l10n.t('The week needs a route.'), calledOn);
    if (uri === undefined) return;
    if (this.open) this.open.panel.reveal(undefined, false);
    else this.create(false);
    this.open?.controller.follow(uri);
    completeStep('week');
  }

  /** Opens the panel at the view that a code lens names; the keyboard focus stays in the text. */
  private showAt({ uri, view, technique }: ShowInPanel): void {
    if (this.open) this.open.panel.reveal(undefined, true);
    else this.create(true);
    this.open?.controller.follow(uri);
    this.open?.controller.showView(view, technique);
  }

  private create(preserveFocus: boolean): void {
    const place = { viewColumn: ViewColumn.Beside, preserveFocus };
    this.adopt(window.createWebviewPanel(viewType, l10n.t('Week'), place, {}), undefined);
  }

  /** Connects to a panel, a new one or one that the editor has restored. */
  private adopt(panel: WebviewPanel, stored: StoredPanelState | undefined): void {
    this.open?.panel.dispose();
    const controller = new PanelController(
      this.client,
      panel,
      this.extension,
      stored?.uri ?? visibleRouteFile(),
      stored,
    );
    const open = { panel, controller };
    this.open = open;
    panel.onDidDispose(() => {
      controller.dispose();
      if (this.open === open) this.open = undefined;
    });
  }

  private end(): void {
    this.open?.panel.dispose();
    this.refresh.stop();
    this.listeners.dispose();
  }
}
