import { CancellationTokenSource, Disposable, Uri, type WebviewPanel } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  fromPanelShape,
  panelDataShape,
  panelRequest,
  type FromPanel,
  type PanelData,
  type PanelParams,
  type PanelView,
  type Stored,
  type ToPanel,
} from '../../server/src/protocolPanel.ts';
import { changeWeek, copyMarkdown, openTechnique, saveDrawing } from './panelEdits.ts';

/** Milliseconds without a further edit before long work is begun, at most. */
const longestPause = 250;

/**
 * What one panel and the server say to each other. What is known is shown at once; what has to be worked out
 * follows, and is asked for only once the typing pauses for as long as such work takes.
 */
export class PanelTalk extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly panel: WebviewPanel;
  private readonly listener: Disposable;
  private uri: string | undefined;
  private view: PanelView;
  private technique: string | null;
  private ready = false;
  private asking: CancellationTokenSource | undefined;
  private timer: ReturnType<typeof setTimeout> | undefined;
  /** Milliseconds that the last work took, by view. */
  private readonly took = new Map<PanelView, number>();
  private shown = '';

  constructor(
    client: BaseLanguageClient,
    panel: WebviewPanel,
    uri: string | undefined,
    stored: Stored | undefined,
  ) {
    super(() => this.end());
    this.client = client;
    this.panel = panel;
    this.uri = uri;
    this.view = stored?.view ?? 'week';
    this.technique = stored?.technique ?? null;
    this.listener = Disposable.from(
      panel.webview.onDidReceiveMessage((message: unknown) => {
        // What the page says is checked before anything is done with it.
        if (fromPanelShape.fits(message)) void this.take(message).catch((error) => this.failed(error));
      }),
      panel.onDidChangeViewState(() => this.refresh()),
    );
  }

  /** Shows the route of another file. */
  follow(uri: string): void {
    if (uri === this.uri) return;
    this.uri = uri;
    this.refresh();
  }

  /** Asks again for what is shown. */
  refresh(): void {
    if (!this.ready || !this.panel.visible) return;
    void this.ask().catch((error) => this.failed(error));
  }

  private async take(message: FromPanel): Promise<void> {
    switch (message.type) {
      case 'ready':
        if (message.stored) {
          this.view = message.stored.view;
          this.technique = message.stored.technique;
        }
        this.ready = true;
        this.shown = '';
        return this.ask();
      case 'look':
        this.view = message.view;
        this.technique = message.technique;
        return this.ask();
      case 'change': {
        const { technique, change } = message;
        if (this.uri === undefined) return;
        return this.say(await changeWeek(this.client, { uri: this.uri, technique, change }));
      }
      case 'open':
        if (this.uri === undefined) return;
        return openTechnique(this.client, { uri: this.uri, technique: message.technique });
      case 'copy': {
        const params = this.params(true);
        return params && this.say(await copyMarkdown(this.client, params));
      }
      case 'save': {
        if (this.uri === undefined) return;
        const said = await saveDrawing(Uri.parse(this.uri), message.name, message.drawing);
        return said === undefined ? undefined : this.say(said);
      }
    }
  }

  private params(wait: boolean): PanelParams | undefined {
    const { uri, view, technique } = this;
    return uri === undefined ? undefined : { uri, view, technique, wait };
  }

  /** Shows what is known; where something has to be worked out first, that follows after a pause. */
  private async ask(): Promise<void> {
    clearTimeout(this.timer);
    this.asking?.cancel();
    const asking = new CancellationTokenSource();
    this.asking = asking;
    const data = await this.request(false, asking);
    if (!data || this.asking !== asking) return;
    await this.show(data);
    if (data.pending === null) return;
    const pause = Math.min(longestPause, this.took.get(data.view) ?? 0);
    this.timer = setTimeout(() => void this.work(asking).catch((error) => this.failed(error)), pause);
  }

  private async work(asking: CancellationTokenSource): Promise<void> {
    const from = Date.now();
    const data = await this.request(true, asking);
    if (!data || this.asking !== asking) return;
    // Quick work needs no pause before it.
    const took = Date.now() - from;
    this.took.set(data.view, took < 100 ? 0 : took);
    await this.show(data);
  }

  private async request(wait: boolean, asking: CancellationTokenSource): Promise<PanelData | undefined> {
    const params = this.params(wait);
    if (!params || !this.client.isRunning()) return undefined;
    try {
      const data: unknown = await this.client.sendRequest<unknown>(panelRequest, params, asking.token);
      if (panelDataShape.fits(data)) return data;
      throw new Error('The server answered in a form that the panel does not know.');
    } catch (error) {
      if (asking.token.isCancellationRequested) return undefined;
      throw error;
    }
  }

  private async show(data: PanelData): Promise<void> {
    // The same again would only make the page work.
    const text = JSON.stringify(data);
    if (text === this.shown) return;
    this.shown = text;
    this.panel.title = data.route === '' ? 'Week' : `Week: ${data.route}`;
    await this.post({ type: 'show', data });
  }

  private say(text: string): Promise<void> {
    return this.post({ type: 'said', text });
  }

  private async post(message: ToPanel): Promise<void> {
    await this.panel.webview.postMessage(message);
  }

  private failed(error: unknown): void {
    this.client.error('The panel did not get its answer.', error, false);
    const reason = error instanceof Error ? error.message : String(error);
    void this.say(`That did not work: ${reason}`);
  }

  private end(): void {
    clearTimeout(this.timer);
    this.asking?.cancel();
    this.asking = undefined;
    this.listener.dispose();
  }
}
