import { Disposable, l10n, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  findingsChangedNotification,
  statusRequest,
  type StatusResult,
} from '../../../server/src/protocol/messages/findings.ts';
import { whoseLogsRequest, type WhoseLogsResult } from '../../../server/src/protocol/messages/runners.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { StatusBarEntry } from '../editor/messages.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';
import { visibleRouteFile } from '../editor/visibleRouteFile.ts';
import { chooseRunnerCommand, type RunnerChoice } from '../routes/runnerChoice.ts';

/**
 * The items in the status bar: the route that the active editor's file belongs to, with the number of problems in all
 * files of that route; and, where the logs are of several runners, whose count.
 */
export class StatusItem extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly item: StatusBarEntry;
  private readonly runnerItem: StatusBarEntry;
  private readonly listeners: Disposable;
  /** Counts requests, so that the answer to an earlier one is not shown. */
  private requestCount = 0;

  constructor(client: BaseLanguageClient, runners: Pick<RunnerChoice, 'onDidChange'>) {
    super(() => this.end());
    this.client = client;
    this.item = new StatusBarEntry('routewright.route', 'Routewright', 'workbench.actions.view.problems');
    this.runnerItem = new StatusBarEntry(
      'routewright.runner',
      l10n.t('Whose logs count'),
      chooseRunnerCommand,
    );
    this.listeners = Disposable.from(
      window.onDidChangeActiveTextEditor(() => void this.update()),
      runners.onDidChange(() => void this.update()),
      client.onNotification(findingsChangedNotification, () => void this.update()),
    );
    void this.update();
  }

  private async update(): Promise<void> {
    const current = ++this.requestCount;
    const uri = shownFile();
    if (uri === undefined) {
      this.item.hide();
      this.runnerItem.hide();
      return;
    }
    // Without an answer the items keep their texts; the log has the reason.
    const [status, whose] = await Promise.all([
      this.client.sendRequest(statusRequest, { uri }),
      this.client.sendRequest(whoseLogsRequest, { uri }),
    ]).catch((error: unknown) => {
      this.client.error('The status item got no answer.', error, false);
      return [];
    });
    if (!status || !whose || current !== this.requestCount) return;
    this.show(status);
    this.showRunner(whose);
  }

  /** Shown only where there is something to choose: most people keep their own logs alone. */
  private showRunner(whose: WhoseLogsResult): void {
    if (isRefusal(whose) || !whose.choice) {
      this.runnerItem.hide();
      return;
    }
    const { counts, problem, reason } = whose;
    const name = counts?.name ?? l10n.t('Whose logs?');
    this.runnerItem.show(
      [{ icon: counts ? 'person' : 'question', text: name }],
      problem === null
        ? l10n.t('{0} Click to choose another runner.', reason ?? name)
        : l10n.t('{0} Click to choose whose logs count.', problem),
      problem === null
        ? l10n.t('Routewright, the logs of {0} count', name)
        : l10n.t('Routewright, {0} Choose whose logs count', problem),
    );
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
    this.runnerItem.dispose();
  }
}

/** The file in the active editor if it is one of ours. Where a page has the focus, such as the panel, one beside it. */
function shownFile(): string | undefined {
  const document = window.activeTextEditor?.document;
  return document && !isRoutewrightDocument(document) ? undefined : visibleRouteFile();
}
