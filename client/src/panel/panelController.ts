import { CancellationTokenSource, Disposable, l10n, Uri, type WebviewPanel } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  defaultObjective,
  panelViewMessageShape,
  panelDataShape,
  panelRequest,
  type PanelViewMessage,
  type PanelData,
  type PanelParams,
  type PanelView,
  type StoredPanelState,
  type PanelEditorMessage,
} from '../../../server/src/protocol/panel.ts';
import { changeWeek, copyMarkdown, openTechnique, saveDrawing } from './edits.ts';

/** Milliseconds without a further edit before long work is begun, at most. */
const maxDelayMs = 250;
/** Milliseconds of work that are waited for: two answers in so short a time would only draw the page twice. */
const quickWorkMs = 150;
/** Milliseconds without a further edit before what nobody waits for is worked out. */
const idleDelayMs = 700;

/**
 * What one panel and the server say to each other. Quick work is shown in one go. Where work takes longer, what is
 * known is shown at once; the rest follows, and is asked for only once the typing pauses for as long as it takes.
 */
export class PanelController extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly panel: WebviewPanel;
  private readonly listener: Disposable;
  private uri: string | undefined;
  private view: PanelView;
  private technique: string | null;
  private objective: string;
  private ready = false;
  /** What to look at once the page is there. */
  private wanted: { readonly view: PanelView; readonly technique: string | null } | undefined;
  private inFlight: CancellationTokenSource | undefined;
  /** Whether the files were read anew while an answer was on its way. */
  private refreshPending = false;
  /** Whether nothing is on its way but what nobody waits for. */
  private restPending = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  /** Milliseconds that the last work took, by view. */
  private readonly durations = new Map<PanelView, number>();
  private shown = '';

  constructor(
    client: BaseLanguageClient,
    panel: WebviewPanel,
    uri: string | undefined,
    stored: StoredPanelState | undefined,
  ) {
    super(() => this.close());
    this.client = client;
    this.panel = panel;
    this.uri = uri;
    this.view = stored?.view ?? 'week';
    this.technique = stored?.technique ?? null;
    this.objective = stored?.objective ?? defaultObjective;
    this.listener = Disposable.from(
      panel.webview.onDidReceiveMessage((message: unknown) => {
        // What the page says is checked before anything is done with it.
        if (panelViewMessageShape.fits(message))
          void this.handleMessage(message).catch((error) => this.failed(error));
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

  /** Brings the panel to a view, at once or as soon as its page is there. */
  look(view: PanelView, technique: string | null): void {
    if (this.ready) this.runInBackground(this.post({ type: 'look', view, technique }));
    else this.wanted = { view, technique };
  }

  /** Asks again for what is shown. */
  refresh(): void {
    if (!this.ready || !this.panel.visible) return;
    void this.ask().catch((error) => this.failed(error));
  }

  /** The same where the files were read anew: an answer on its way may know of it, and is waited for. */
  refreshAfterReading(): void {
    if (this.inFlight && !this.restPending) this.refreshPending = true;
    else this.refresh();
  }

  private async handleMessage(message: PanelViewMessage): Promise<void> {
    switch (message.type) {
      case 'ready':
        if (message.stored) {
          this.view = message.stored.view;
          this.technique = message.stored.technique;
          this.objective = message.stored.objective;
        }
        this.ready = true;
        this.shown = '';
        if (this.wanted) {
          const { view, technique } = this.wanted;
          this.wanted = undefined;
          return this.post({ type: 'look', view, technique });
        }
        return this.ask();
      case 'look':
        this.view = message.view;
        this.technique = message.technique;
        this.objective = message.objective;
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
        const params = this.params({ wait: true });
        return params && this.say(await copyMarkdown(this.client, params));
      }
      case 'save': {
        if (this.uri === undefined) return;
        const said = await saveDrawing(Uri.parse(this.uri), message.name, message.drawing);
        return said === undefined ? undefined : this.say(said);
      }
    }
  }

  private params(how: Pick<PanelParams, 'wait' | 'rest'>): PanelParams | undefined {
    const { uri, view, technique, objective } = this;
    return uri === undefined ? undefined : { uri, view, technique, objective, ...how };
  }

  /** Shows what is known; where long work has to be done first, that follows after a pause. */
  private async ask(): Promise<void> {
    clearTimeout(this.timer);
    this.inFlight?.cancel();
    this.refreshPending = false;
    this.restPending = false;
    const asking = new CancellationTokenSource();
    this.inFlight = asking;
    const usual = this.durations.get(this.view);
    if (usual !== undefined && usual < quickWorkMs) return this.work(asking);
    const data = await this.request({ wait: false }, asking);
    if (!data || this.inFlight !== asking) return this.end(asking);
    await this.show(data);
    if (data.pending === null) return this.done(asking, data);
    const pause = Math.min(maxDelayMs, usual ?? 0);
    this.timer = setTimeout(() => this.runInBackground(this.work(asking)), pause);
  }

  private async work(asking: CancellationTokenSource): Promise<void> {
    const from = Date.now();
    const data = await this.request({ wait: true }, asking);
    if (!data || this.inFlight !== asking) return this.end(asking);
    this.durations.set(data.view, Date.now() - from);
    await this.show(data);
    this.done(asking, data);
  }

  /** All that was waited for is shown. */
  private done(asking: CancellationTokenSource, data: PanelData): void {
    if (this.inFlight !== asking) return;
    if (this.refreshPending) return this.runInBackground(this.ask());
    this.inFlight = undefined;
    if (data.more) this.timer = setTimeout(() => this.runInBackground(this.requestRest()), idleDelayMs);
  }

  /** Adds what nobody waits for. Whatever happens meanwhile comes first. */
  private async requestRest(): Promise<void> {
    const asking = new CancellationTokenSource();
    this.inFlight = asking;
    this.restPending = true;
    const data = await this.request({ wait: true, rest: true }, asking);
    if (data && this.inFlight === asking) await this.show(data);
    this.end(asking);
  }

  /** Nothing came of a request: unless another has taken its place, none is on its way. */
  private end(asking: CancellationTokenSource): void {
    if (this.inFlight === asking) this.inFlight = undefined;
  }

  private runInBackground(work: Promise<void>): void {
    void work.catch((error) => this.failed(error));
  }

  private async request(
    how: Pick<PanelParams, 'wait' | 'rest'>,
    asking: CancellationTokenSource,
  ): Promise<PanelData | undefined> {
    const params = this.params(how);
    if (!params || !this.client.isRunning()) return undefined;
    try {
      const data: unknown = await this.client.sendRequest<unknown>(panelRequest, params, asking.token);
      if (panelDataShape.fits(data)) return data;
      throw new Error('The server answered in a form that the panel does not know.');
    } catch (error) {
      if (asking.token.isCancellationRequested) return undefined;
      this.end(asking);
      throw error;
    }
  }

  private async show(data: PanelData): Promise<void> {
    // The same again would only make the page work.
    const text = JSON.stringify(data);
    if (text === this.shown) return;
    this.shown = text;
    this.panel.title = data.route === '' ? l10n.t('Week') : l10n.t('Week: {0}', data.route);
    await this.post({ type: 'show', data });
  }

  private say(text: string): Promise<void> {
    return this.post({ type: 'said', text });
  }

  private async post(message: PanelEditorMessage): Promise<void> {
    await this.panel.webview.postMessage(message);
  }

  private failed(error: unknown): void {
    this.client.error('The panel did not get its answer.', error, false);
    const reason = error instanceof Error ? error.message : String(error);
    void this.say(l10n.t('That did not work: {0}', reason));
  }

  private close(): void {
    clearTimeout(this.timer);
    this.inFlight?.cancel();
    this.inFlight = undefined;
    this.listener.dispose();
  }
}
