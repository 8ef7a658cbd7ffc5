import { Disposable, l10n, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  findingsChangedNotification,
  statusRequest,
  type StatusResult,
} from '../../../server/src/protocol/messages/findings.ts';
import { StatusBarEntry } from '../editor/messages.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';

/**
 * The item in the status bar: the route that the active editor's file belongs to, and the number of problems in all
 * files of that route.
 */
export class StatusItem extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly item: StatusBarEntry;
  private readonly listeners: Disposable;
  /** Counts requests, so that the answer to an earlier one is not shown. */
  private requestCount = 0;

  constructor(client: BaseLanguageClient) {
    super(() => this.end());
    this.client = client;
    this.item = new StatusBarEntry('routewright.route', 'Routewright', 'workbench.actions.view.problems');
    this.listeners = Disposable.from(
      window.onDidChangeActiveTextEditor(() => void this.update()),
      client.onNotification(findingsChangedNotification, () => void this.update()),
    );
    void this.update();
  }

  private async update(): Promise<void> {
    const current = ++this.requestCount;
    const document = window.activeTextEditor?.document;
    if (!document || !isRoutewrightDocument(document)) {
      this.item.hide();
      return;
    }
    // Without an answer the item keeps its text; the log has the reason.
    const status = await this.client
      .sendRequest(statusRequest, { uri: document.uri.toString() })
      .catch((error: unknown) => this.client.error('The status item got no answer.', error, false));
    if (status && current === this.requestCount) this.show(status);
  }

  private show({ route, problems }: StatusResult): void {
    const name = route ?? l10n.t('No route');
    const count = problems === 1 ? l10n.t('1 problem') : l10n.t('{0} problems', problems);
    const whose = route ?? l10n.t('This file belongs to no route');
    this.item.show(
      [
        { icon: 'milestone', text: name },
        ...(problems > 0 ? [{ icon: 'warning', text: String(problems) }] : []),
      ],
      l10n.t('{0}: {1}. Click for the Problems view.', whose, count),
      l10n.t('Routewright, {0}, {1}', name, count),
    );
  }

  private end(): void {
    this.requestCount++;
    this.listeners.dispose();
    this.item.dispose();
  }
}
