import {
  commands,
  Disposable,
  l10n,
  window,
  type ExtensionContext,
  type Uri,
  type WebviewPanel,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  logEveningRequest,
  logRunRequest,
  runFormRequest,
  type LogEntryResult,
  type RunFormResult,
} from '../../../server/src/protocol/messages/logEntry.ts';
import {
  runPageMessageShape,
  storedRunPageShape,
  type RunEditorMessage,
  type RunPageMessage,
} from '../../../server/src/protocol/runLog/pageMessages.ts';
import type { LogFile } from '../../../server/src/protocol/messages/practiceOffer.ts';
import { isRefusal, type Refusal } from '../../../server/src/protocol/refusal.ts';
import { pageColumn } from '../editor/columns.ts';
import { showStatus } from '../editor/messages.ts';
import { failureSentence, reasonOf, showFailure, showRefusal } from '../editor/notices.ts';
import { showInPanel } from '../editor/showInPanel.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { showPage } from '../webview/showPage.ts';
import { readStored } from '../webview/storedState.ts';
import { RunDrafts } from './runDrafts.ts';
import { runPage } from './runPage.ts';
import { logWholeEntry } from './wholeEntry.ts';

const viewType = 'routewright.run';

/** Milliseconds for which the status bar says where a run was logged. */
const statusMs = 15_000;

type Form = Exclude<RunFormResult, Refusal>;

interface OpenPage {
  readonly panel: WebviewPanel;
  /** The file that the page was opened for. */
  readonly uri: string;
  /** The server's answer that the page was opened with; undefined once it was shown: a page that is loaded again asks anew. */
  answer: Form | undefined;
  /** The log that the run goes into; undefined until the server has said which one it is. */
  log: LogFile | undefined;
  /** Whether a run is being written: another press of the button must not write it twice. */
  writing: boolean;
}

/** The command Log Run, and its page: a field for each segment. What was filled in is kept until it is logged. */
export class RunPanel extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly routes: RouteChoice;
  private readonly extension: Uri;
  private readonly drafts: RunDrafts;
  private readonly listeners: Disposable;
  private open: OpenPage | undefined;

  constructor(
    client: BaseLanguageClient,
    routes: RouteChoice,
    { extensionUri, workspaceState }: ExtensionContext,
  ) {
    super(() => this.end());
    this.client = client;
    this.routes = routes;
    this.extension = extensionUri;
    this.drafts = new RunDrafts(workspaceState);
    this.listeners = Disposable.from(
      commands.registerCommand('routewright.logRun', async (calledOn: unknown): Promise<void> => {
        await this.start(calledOn).catch((error: unknown) => this.failed(undefined, error));
      }),
      window.registerWebviewPanelSerializer(viewType, {
        deserializeWebviewPanel: (panel, stored: unknown) => {
          const uri = readStored(storedRunPageShape, stored)?.uri;
          if (uri === undefined) panel.dispose();
          else this.adopt(panel, uri);
          return Promise.resolve();
        },
      }),
    );
  }

  /** Asks first, so that a page is opened only where a run can be logged. */
  private async start(calledOn: unknown): Promise<void> {
    const uri = await this.routes.chooseWithRunner(l10n.t('Logging a run needs a route.'), calledOn);
    if (uri === undefined) return;
    const answer = await this.client.sendRequest(runFormRequest, { uri });
    if (isRefusal(answer)) {
      await showRefusal(answer);
      return;
    }
    if (this.open?.log?.uri === answer.form.uri) {
      this.open.panel.reveal(undefined, false);
      return;
    }
    this.adopt(window.createWebviewPanel(viewType, l10n.t('Log Run'), pageColumn(), {}), uri, answer);
  }

  private adopt(panel: WebviewPanel, uri: string, answer?: Form): void {
    this.open?.panel.dispose();
    const page: OpenPage = { panel, uri, answer, log: undefined, writing: false };
    this.open = page;
    showPage(panel, this.extension, runPage, runPageMessageShape, (message) => {
      void this.handleMessage(page, message).catch((error: unknown) => this.failed(page, error));
    });
    panel.onDidDispose(() => {
      if (this.open === page) this.open = undefined;
    });
  }

  private async handleMessage(page: OpenPage, message: RunPageMessage): Promise<void> {
    if (message.type === 'ready') return this.fill(page);
    const { log } = page;
    if (log === undefined) return;
    switch (message.type) {
      case 'draft':
        return this.drafts.keep(log.uri, message.draft);
      case 'run':
        return this.write(page, log, 'after', (uri) =>
          this.client.sendRequest(logRunRequest, { uri, ...message.run }),
        );
      case 'evening':
        return this.write(page, log, 'review', (uri) =>
          this.client.sendRequest(logEveningRequest, { uri, ...message.evening }),
        );
    }
  }

  private async fill(page: OpenPage): Promise<void> {
    const answer = page.answer ?? (await this.client.sendRequest(runFormRequest, { uri: page.uri }));
    page.answer = undefined;
    if (isRefusal(answer)) {
      page.panel.dispose();
      await showRefusal(answer);
      return;
    }
    const { form, runs } = answer;
    page.log = runs;
    page.panel.title = l10n.t('Log Run: {0}', form.route);
    await this.post(page, { type: 'show', file: page.uri, form, draft: this.drafts.of(form.uri) });
  }

  /** Writes a run by a request; then closes the page and shows what the run changed. */
  private async write(
    page: OpenPage,
    log: LogFile,
    view: 'after' | 'review',
    ask: (uri: string) => Promise<LogEntryResult>,
  ): Promise<void> {
    if (page.writing) return;
    page.writing = true;
    try {
      const result = await logWholeEntry(log, page.uri, ask);
      if (isRefusal(result)) {
        await this.post(page, { type: 'refused', text: result.message });
        return;
      }
      await this.drafts.keep(log.uri, null);
      page.panel.dispose();
      // What was logged is on the page that opens; a message would lie over it.
      showStatus(l10n.t('Logged. {0}', result.outcome), statusMs);
      await showInPanel({
        uri: log.uri,
        view,
        technique: null,
        ...(result.id !== null && { run: result.id }),
      });
    } finally {
      page.writing = false;
    }
  }

  private async post(page: OpenPage, message: RunEditorMessage): Promise<void> {
    await page.panel.webview.postMessage(message);
  }

  private end(): void {
    // The page is not closed: the editor restores it at the next start.
    this.listeners.dispose();
  }

  /** Tells of an error: on the page where it is open, so that what was filled in stays in sight. */
  private async failed(page: OpenPage | undefined, error: unknown): Promise<void> {
    this.client.error('The run was not logged.', error, false);
    if (page && this.open === page) await this.post(page, { type: 'refused', text: failureSentence(error) });
    else showFailure(l10n.t('Nothing was logged: {0}', reasonOf(error)));
  }
}
