import { l10n, type Uri } from 'vscode';
import { commands, Disposable, window, workspace, type ExtensionContext, type WebviewPanel } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  storedPanelStateShape,
  type StoredPanelState,
} from '../../../server/src/protocol/panel/pageMessages.ts';
import {
  showInPanelCommand,
  showInPanelShape,
  type ShowInPanel,
} from '../../../server/src/protocol/panel/showInPanel.ts';
import type { PanelView } from '../../../server/src/protocol/panel/views.ts';
import { pageColumn } from '../editor/columns.ts';
import { visibleRouteFile } from '../editor/visibleRouteFile.ts';
import { completeStep } from '../routes/firstSteps.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { PanelController } from './panelController.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';
import { Timer } from '../editor/timer.ts';
import { readStored } from '../webview/storedState.ts';

const viewType = 'routewright.week';

interface OpenPanel {
  readonly panel: WebviewPanel;
  readonly controller: PanelController;
}

/**
 * The panel beside the route: opens it, follows the active editor to another route, and restores it after a restart.
 */
export class WeekPanel extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly routes: RouteChoice;
  private readonly extension: Uri;
  private readonly listeners: Disposable;
  private open: OpenPanel | undefined;
  /** Delays asking for new numbers after an edit. */
  private readonly refresh = new Timer();

  constructor(client: BaseLanguageClient, routes: RouteChoice, { extensionUri }: ExtensionContext) {
    super(() => this.end());
    this.client = client;
    this.routes = routes;
    this.extension = extensionUri;
    this.listeners = Disposable.from(
      commands.registerCommand('routewright.previewWeek', (calledOn: unknown) => this.showWeek(calledOn)),
      commands.registerCommand('routewright.showRunOdds', (calledOn: unknown) =>
        this.show('odds', l10n.t('The odds of a run need a route.'), calledOn),
      ),
      commands.registerCommand('routewright.reviewPractice', (calledOn: unknown) =>
        this.show('review', l10n.t('A review needs a route and its logs.'), calledOn),
      ),
      commands.registerCommand('routewright.showProgress', (calledOn: unknown) =>
        this.show('progress', l10n.t('A look back over the months needs a route and its logs.'), calledOn),
      ),
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
    );
  }

  /** The server has read the files again: one of them may have changed on the disk. */
  refreshAfterReading(): void {
    this.open?.controller.refreshAfterReading();
  }

  /** Opens the panel at the view that it showed last, the week at first. */
  private async showWeek(calledOn: unknown): Promise<void> {
    const uri = await this.routes.chooseWithRunner(l10n.t('The week needs a route.'), calledOn);
    if (uri === undefined) return;
    this.reveal(uri, false);
    completeStep('week');
  }

  /**
   * Opens the panel at a view.
   *
   * @param need said where no route is to be found
   */
  private async show(view: PanelView, need: string, calledOn: unknown): Promise<void> {
    const uri = await this.routes.chooseWithRunner(need, calledOn);
    if (uri !== undefined) this.reveal(uri, false).showView({ view, technique: null });
  }

  /** Opens the panel at the view that a code lens or a command names; the keyboard focus stays in the text. */
  private showAt({ uri, ...look }: ShowInPanel): void {
    this.reveal(uri, true).showView(look);
  }

  /** Brings the panel to the front, or opens one, with the route of a file. */
  private reveal(uri: string, preserveFocus: boolean): PanelController {
    const open = this.open ?? this.create(preserveFocus);
    open.panel.reveal(undefined, preserveFocus);
    open.controller.follow(uri);
    return open.controller;
  }

  private create(preserveFocus: boolean): OpenPanel {
    const place = { viewColumn: pageColumn(), preserveFocus };
    return this.adopt(window.createWebviewPanel(viewType, l10n.t('Week'), place, {}), undefined);
  }

  /** Connects to a panel, a new one or one that the editor has restored. */
  private adopt(panel: WebviewPanel, stored: StoredPanelState | undefined): OpenPanel {
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
    return open;
  }

  private end(): void {
    this.open?.panel.dispose();
    this.refresh.stop();
    this.listeners.dispose();
  }
}
