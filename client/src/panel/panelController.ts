import { CancellationTokenSource, Disposable, l10n, Uri, type WebviewPanel } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { panelRequest, type PanelParams } from '../../../server/src/protocol/messages/panel.ts';
import {
  panelViewMessageShape,
  type PanelEditorMessage,
  type PanelViewMessage,
  type StoredPanelState,
} from '../../../server/src/protocol/panel/pageMessages.ts';
import { type PanelData } from '../../../server/src/protocol/panel/panelData.ts';
import { firstLook, lookOf, type ChangeOfLook, type Look } from '../../../server/src/protocol/panel/look.ts';
import { viewTitles, type PanelView } from '../../../server/src/protocol/panel/views.ts';
import {
  changeWeek,
  copyMarkdown,
  makeSwap,
  openTechnique,
  saveCalendar,
  saveDrawing,
} from './panelActions.ts';
import { failureSentence } from '../editor/notices.ts';
import { showPlace } from '../editor/showFile.ts';
import { startBlock } from '../editor/startBlock.ts';
import { Timer } from '../editor/timer.ts';
import { showPage } from '../webview/showPage.ts';
import { panelPage } from './panelPage.ts';
import { endLack } from './remedies.ts';

/** The longest pause without an edit, in milliseconds, that is waited for before long work begins. */
const maxDelayMs = 250;
/**
 * Work that takes no longer than this, in milliseconds, is answered in one go: two answers in so short a time would
 * only draw the page twice.
 */
const quickWorkMs = 150;
/** Milliseconds without an edit before the parts that are computed in idle time are asked for. */
const idleDelayMs = 700;

/**
 * Asks the server for the data of one panel. Where the work is quick, one answer shows everything. Where it takes
 * longer, the numbers that are known are shown at once, and the others are asked for when typing has paused for as long
 * as they take.
 */
export class PanelController extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly panel: WebviewPanel;
  private readonly listener: Disposable;
  private uri: string | undefined;
  private look: Look;
  /** Whether the page is loaded. A page that is hidden is gone: the editor loads it again when it is shown. */
  private ready = false;
  /** The view to show as soon as the page is loaded. */
  private wanted: ChangeOfLook | undefined;
  private inFlight: CancellationTokenSource | undefined;
  /** Whether the files were read again while the server was working on an answer. */
  private refreshPending = false;
  /** Whether the only request under way is the one for the parts computed in idle time. */
  private restPending = false;
  private readonly timer = new Timer();
  /** Milliseconds that the last answer took, by view. */
  private readonly durations = new Map<PanelView, number>();
  private shown = '';
  /** The route that is shown; empty where it is not known. */
  private routeUri = '';
  /** The text that cannot be read, as the page names it. */
  private broken: PanelData['broken'] = null;

  constructor(
    client: BaseLanguageClient,
    panel: WebviewPanel,
    extension: Uri,
    uri: string | undefined,
    stored: StoredPanelState | undefined,
  ) {
    super(() => this.close());
    this.client = client;
    this.panel = panel;
    this.uri = uri;
    this.look = stored ? lookOf(stored) : firstLook;
    this.listener = Disposable.from(
      showPage(panel, extension, panelPage, panelViewMessageShape, (message) =>
        this.runInBackground(this.handleMessage(message)),
      ),
      panel.onDidChangeViewState(() => {
        if (panel.visible) this.refresh();
        else this.ready = false;
      }),
    );
  }

  /** Shows the route of another file. */
  follow(uri: string): void {
    if (uri === this.uri) return;
    this.uri = uri;
    this.refresh();
  }

  /** Shows a view in the panel, at once or as soon as its page is loaded. */
  showView(look: ChangeOfLook): void {
    if (this.ready && this.panel.visible) this.runInBackground(this.post({ type: 'look', ...look }));
    else this.wanted = look;
  }

  /** Asks the server again for the view that is shown. */
  refresh(): void {
    if (!this.ready || !this.panel.visible) return;
    void this.ask().catch((error) => this.failed(error));
  }

  /**
   * The same after the server has read the files again. An answer under way may contain the change already, so it is
   * waited for.
   */
  refreshAfterReading(): void {
    if (this.inFlight && !this.restPending) this.refreshPending = true;
    else this.refresh();
  }

  private async handleMessage(message: PanelViewMessage): Promise<void> {
    switch (message.type) {
      case 'ready':
        if (message.stored) this.look = lookOf(message.stored);
        this.ready = true;
        this.shown = '';
        if (this.wanted) {
          const look = this.wanted;
          this.wanted = undefined;
          return this.post({ type: 'look', ...look });
        }
        return this.ask();
      case 'look':
        this.look = lookOf(message);
        return this.ask();
      case 'change': {
        const { technique, change } = message;
        if (this.uri === undefined) return;
        return this.say(await changeWeek(this.client, { uri: this.uri, technique, change }));
      }
      case 'swap': {
        const { technique, instead } = message;
        if (this.uri === undefined) return;
        return this.say(await makeSwap(this.client, { uri: this.uri, technique, instead }));
      }
      case 'open':
        if (this.uri === undefined) return;
        return openTechnique(this.client, { uri: this.uri, technique: message.technique });
      case 'remedy': {
        if (this.uri === undefined) return;
        const files = { uri: this.uri, routeUri: this.routeUri };
        const said = await endLack(this.client, files, message.remedy);
        return said === undefined ? undefined : this.say(said);
      }
      case 'practise':
        return this.uri === undefined ? undefined : startBlock(this.uri, message.technique);
      case 'mend':
        return this.broken === null ? undefined : showPlace(this.broken.place);
      case 'copy': {
        const params = this.params({ wait: true });
        return params && this.say(await copyMarkdown(this.client, params));
      }
      case 'calendar': {
        if (this.uri === undefined) return;
        const said = await saveCalendar(this.client, this.uri);
        return said === undefined ? undefined : this.say(said);
      }
      case 'save': {
        if (this.uri === undefined) return;
        const said = await saveDrawing(Uri.parse(this.uri), message.name, message.drawing);
        return said === undefined ? undefined : this.say(said);
      }
    }
  }

  private params(how: Pick<PanelParams, 'wait' | 'rest'>): PanelParams | undefined {
    const { uri, look } = this;
    return uri === undefined ? undefined : { uri, ...look, ...how };
  }

  /** Shows the numbers that are known; those that need long work follow after a pause. */
  private async ask(): Promise<void> {
    this.timer.stop();
    this.inFlight?.cancel();
    this.refreshPending = false;
    this.restPending = false;
    const asking = new CancellationTokenSource();
    this.inFlight = asking;
    const usual = this.durations.get(this.look.view);
    if (usual !== undefined && usual < quickWorkMs) return this.work(asking);
    const data = await this.request({ wait: false }, asking);
    if (!data || this.inFlight !== asking) return this.end(asking);
    await this.show(data);
    if (data.pending === null) return this.finish(asking, data);
    const pause = Math.min(maxDelayMs, usual ?? 0);
    this.timer.start(pause, () => this.runInBackground(this.work(asking)));
  }

  private async work(asking: CancellationTokenSource): Promise<void> {
    const from = Date.now();
    const data = await this.request({ wait: true }, asking);
    if (!data || this.inFlight !== asking) return this.end(asking);
    this.durations.set(data.view, Date.now() - from);
    await this.show(data);
    this.finish(asking, data);
  }

  /** Ends a request whose answer is complete and shown. */
  private finish(asking: CancellationTokenSource, data: PanelData): void {
    if (this.inFlight !== asking) return;
    if (this.refreshPending) return this.runInBackground(this.ask());
    this.inFlight = undefined;
    if (data.more) this.timer.start(idleDelayMs, () => this.runInBackground(this.requestRest()));
  }

  /** Adds the parts that are computed in idle time. Any other request cancels this one. */
  private async requestRest(): Promise<void> {
    const asking = new CancellationTokenSource();
    this.inFlight = asking;
    this.restPending = true;
    const data = await this.request({ wait: true, rest: true }, asking);
    if (data && this.inFlight === asking) await this.show(data);
    this.end(asking);
  }

  /** Ends a request without a result. Unless another request has replaced it, none is under way then. */
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
      const data: unknown = await this.client.sendRequest(panelRequest, params, asking.token);
      if (panelRequest.result.fits(data)) return data;
      throw new Error('The server answered in a form that the panel does not know.');
    } catch (error) {
      if (asking.token.isCancellationRequested) return undefined;
      this.end(asking);
      throw error;
    }
  }

  private async show(data: PanelData): Promise<void> {
    // Sending equal data again would make the page work for nothing.
    const text = JSON.stringify(data);
    if (text === this.shown) return;
    this.shown = text;
    this.broken = data.broken;
    this.routeUri = data.routeUri;
    const title = viewTitles[data.view];
    this.panel.title = data.route === '' ? title : l10n.t('{0}: {1}', title, data.route);
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
    void this.say(failureSentence(error));
  }

  private close(): void {
    this.timer.stop();
    this.inFlight?.cancel();
    this.inFlight = undefined;
    this.listener.dispose();
  }
}
