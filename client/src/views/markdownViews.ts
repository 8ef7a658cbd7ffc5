import { Disposable, EventEmitter, l10n, TabInputText, Uri, ViewColumn, window, workspace } from 'vscode';
import type { CancellationToken, Tab, TextDocumentContentProvider } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { findingsChangedNotification } from '../../../server/src/protocol/messages/findings.ts';
import type { ViewResult } from '../../../server/src/protocol/messages/views.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';
import {
  sendRequest,
  takeNotification,
  type Request,
} from '../../../server/src/protocol/messages/message.ts';
import { compareRequest } from '../../../server/src/protocol/messages/views.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { escapeMarkdown } from '../../../server/src/safeText/markdown.ts';
import { opaque, record, textShape, type ShapeType } from '../../../server/src/protocol/shape.ts';
import { Timer } from '../editor/timer.ts';

const scheme = 'routewright-view';

/** Milliseconds without a change before the open views are computed again. */
const refreshDelayMs = 700;

/** What a view shows, written into its URI: the method of the request that gives its text, and the params. */
const viewSourceShape = record({ request: textShape, params: opaque<unknown>() });
type ViewSource = ShapeType<typeof viewSourceShape>;

type Ask = (client: BaseLanguageClient, params: unknown, token: CancellationToken) => Promise<ViewResult>;

/**
 * A request that gives a view's text. Its params come from a URI, which may be of an earlier start, so they are
 * checked.
 */
function viewRequest<P>(request: Request<P, ViewResult>): [method: string, ask: Ask] {
  const ask: Ask = (client, params, token) => {
    if (!request.params.fits(params))
      throw new Error(`The address of a view has no params of ${request.method}.`);
    return sendRequest(client, request, params, token);
  };
  return [request.method, ask];
}

const viewRequests = new Map([viewRequest(compareRequest)]);

/**
 * Views as read-only Markdown documents whose text comes from the server. While a view is visible, it follows the
 * changes of the files it is about.
 */
export class MarkdownViews extends Disposable implements TextDocumentContentProvider {
  private readonly client: BaseLanguageClient;
  private readonly changed = new EventEmitter<Uri>();
  readonly onDidChange = this.changed.event;
  private readonly parts: Disposable;
  private readonly refresh = new Timer();

  constructor(client: BaseLanguageClient) {
    super(() => this.end());
    this.client = client;
    this.parts = Disposable.from(
      this.changed,
      workspace.registerTextDocumentContentProvider(scheme, this),
      // Two events: an edit may change no finding, and a file can change without being open.
      workspace.onDidChangeTextDocument(
        ({ document }) => isRoutewrightDocument(document) && this.scheduleRefresh(),
      ),
      takeNotification(client, findingsChangedNotification, () => this.scheduleRefresh()),
    );
  }

  /**
   * Shows a view beside the file it was asked from.
   *
   * @param name the name of its tab
   */
  async show<P>(name: string, request: Request<P, ViewResult>, params: P): Promise<void> {
    const source: ViewSource = { request: request.method, params };
    const uri = Uri.from({ scheme, path: `/${name}.md`, query: JSON.stringify(source) });
    const isOpen = workspace.textDocuments.some((document) => document.uri.toString() === uri.toString());
    const document = await workspace.openTextDocument(uri);
    if (isOpen) this.changed.fire(uri);
    await window.showTextDocument(document, {
      viewColumn: columnOfViews() ?? ViewColumn.Beside,
      preview: true,
    });
  }

  async provideTextDocumentContent(uri: Uri, token: CancellationToken): Promise<string> {
    try {
      const source: unknown = JSON.parse(uri.query);
      const ask = viewSourceShape.fits(source) ? viewRequests.get(source.request) : undefined;
      if (!ask || !viewSourceShape.fits(source)) throw new Error('The address of a view names no request.');
      const result = await ask(this.client, source.params, token);
      return isRefusal(result) ? `${escapeMarkdown(result.message)}\n` : result.markdown;
    } catch (error) {
      if (!token.isCancellationRequested) this.client.error('A view got no answer.', error, false);
      return l10n.t(
        'This could not be worked out; the log of Routewright (Output) says why. Run the command again.\n',
      );
    }
  }

  private scheduleRefresh(): void {
    this.refresh.start(refreshDelayMs, () => {
      const seen = new Set(window.visibleTextEditors.map(({ document }) => document.uri.toString()));
      for (const { uri } of workspace.textDocuments)
        if (uri.scheme === scheme && seen.has(uri.toString())) this.changed.fire(uri);
    });
  }

  private end(): void {
    this.refresh.stop();
    this.parts.dispose();
  }
}

/** The column that already shows a view, so that each view does not open a further column. */
function columnOfViews(): ViewColumn | undefined {
  const isView = ({ input }: Tab): boolean => input instanceof TabInputText && input.uri.scheme === scheme;
  return window.tabGroups.all.find(({ tabs }) => tabs.some(isView))?.viewColumn;
}
