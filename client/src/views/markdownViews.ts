import { Disposable, EventEmitter, l10n, TabInputText, Uri, ViewColumn, window, workspace } from 'vscode';
import type { CancellationToken, Tab, TextDocumentContentProvider } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { findingsChangedNotification } from '../../../server/src/protocol/messages.ts';
import type { ViewResult } from '../../../server/src/protocol/views.ts';
import { isRoutewrightDocument } from '../server/selector.ts';

const scheme = 'routewright-view';

/** Milliseconds without a change before open views are worked out anew. */
const refreshDelayMs = 700;

/** What a view shows: the request that gives its text, and what it is asked with. */
interface ViewSource {
  readonly request: string;
  readonly params: object;
}

/**
 * Views in words: read-only Markdown documents whose text comes from the server. They follow the files they speak
 * of while they can be seen.
 */
export class MarkdownViews extends Disposable implements TextDocumentContentProvider {
  private readonly client: BaseLanguageClient;
  private readonly changed = new EventEmitter<Uri>();
  readonly onDidChange = this.changed.event;
  private readonly parts: Disposable;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(client: BaseLanguageClient) {
    super(() => this.end());
    this.client = client;
    this.parts = Disposable.from(
      this.changed,
      workspace.registerTextDocumentContentProvider(scheme, this),
      // An edit need not change any finding, and a file can change without having been opened.
      workspace.onDidChangeTextDocument(
        ({ document }) => isRoutewrightDocument(document) && this.scheduleRefresh(),
      ),
      client.onNotification(findingsChangedNotification, () => this.scheduleRefresh()),
    );
  }

  /**
   * Shows a view beside the file it was asked from.
   *
   * @param name the name of its tab
   */
  async show(name: string, request: string, params: object): Promise<void> {
    const asked: ViewSource = { request, params };
    const uri = Uri.from({ scheme, path: `/${name}.md`, query: JSON.stringify(asked) });
    const known = workspace.textDocuments.some((document) => document.uri.toString() === uri.toString());
    const document = await workspace.openTextDocument(uri);
    if (known) this.changed.fire(uri);
    await window.showTextDocument(document, {
      viewColumn: columnOfViews() ?? ViewColumn.Beside,
      preview: true,
    });
  }

  async provideTextDocumentContent(uri: Uri, token: CancellationToken): Promise<string> {
    const { request, params } = JSON.parse(uri.query) as ViewSource;
    try {
      const result = await this.client.sendRequest<ViewResult>(request, params, token);
      return 'message' in result ? `${result.message}\n` : result.markdown;
    } catch (error) {
      if (!token.isCancellationRequested) this.client.error('A view got no answer.', error, false);
      return l10n.t(
        'This could not be worked out; the log of Routewright (Output) says why. Run the command again.\n',
      );
    }
  }

  private scheduleRefresh(): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      const seen = new Set(window.visibleTextEditors.map(({ document }) => document.uri.toString()));
      for (const { uri } of workspace.textDocuments)
        if (uri.scheme === scheme && seen.has(uri.toString())) this.changed.fire(uri);
    }, refreshDelayMs);
  }

  private end(): void {
    clearTimeout(this.timer);
    this.parts.dispose();
  }
}

/** The column in which views are shown already, so that they do not each open one of their own. */
function columnOfViews(): ViewColumn | undefined {
  const isView = ({ input }: Tab): boolean => input instanceof TabInputText && input.uri.scheme === scheme;
  return window.tabGroups.all.find(({ tabs }) => tabs.some(isView))?.viewColumn;
}
