import {
  storedPanelStateShape,
  type PanelEditorMessage,
} from '../../server/src/protocol/panel/pageMessages.ts';
import type { PanelData } from '../../server/src/protocol/panel/panelData.ts';
import { panelVersion, panelViews, type PanelView } from '../../server/src/protocol/panel/views.ts';
import { firstLook, lookOf, type ChangeOfLook, type Look } from '../../server/src/protocol/panel/look.ts';
import type { ViewActions } from './actions.ts';
import { ensureChild, selectElement, setText, type HtmlSelection } from './dom.ts';
import type { Host } from './host.ts';
import { followHead, showFrame, type Frame } from './frame.ts';
import { SteadyRows } from './steadyRows.ts';
import { renderRemedies } from './remedies.ts';
import { showAfter } from './views/after.ts';
import { showCompare } from './views/compare.ts';
import { showCurve } from './views/curve.ts';
import { showRanking } from './views/ranking.ts';
import { showOdds } from './views/odds.ts';
import { showProgress } from './views/progress.ts';
import { showReview } from './views/review.ts';
import { showWeek } from './views/week.ts';

/**
 * Milliseconds that work may take before the panel shows that it is running: for shorter work the text would only
 * flicker.
 */
const busyDelayMs = 250;
/** Milliseconds for which the answer to an action is shown. */
const messageDurationMs = 8000;

/** The panel: keeps the last data received, and draws them. */
export class Panel {
  private readonly root: HTMLElement;
  private readonly host: Host;
  private data: PanelData | undefined;
  /** Text that cannot be read; the data are those from before, where there are any. */
  private broken: PanelData['broken'] = null;
  private looking: Look = firstLook;
  private readonly rows = new SteadyRows(() => this.draw());
  /** The stored scroll position in pixels, applied when the page has content; undefined after that. */
  private scroll: number | undefined;
  private said = '';
  private busy = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private saying: ReturnType<typeof setTimeout> | undefined;

  constructor(root: HTMLElement, host: Host) {
    this.root = root;
    this.host = host;
  }

  start(): void {
    const stored = this.host.stored();
    const fits = storedPanelStateShape.fits(stored) ? stored : null;
    if (fits) {
      this.looking = lookOf(fits);
      this.scroll = fits.scroll;
    }
    this.host.listen((message) => this.handleMessage(message));
    let width = 0;
    new ResizeObserver(([entry]) => {
      const now = Math.round(entry?.contentRect.width ?? 0);
      if (now === width) return;
      width = now;
      this.draw();
    }).observe(this.root);
    let storing: ReturnType<typeof setTimeout> | undefined;
    window.addEventListener('scroll', () => {
      clearTimeout(storing);
      storing = setTimeout(() => this.store(), 200);
    });
    this.showBusy();
    this.draw();
    followHead(this.root);
    this.host.send({ type: 'ready', stored: fits });
  }

  private handleMessage(message: PanelEditorMessage): void {
    if (message.type === 'said') {
      this.said = message.text;
      clearTimeout(this.saying);
      this.saying = setTimeout(() => {
        this.said = '';
        this.draw();
      }, messageDurationMs);
      this.draw();
      return;
    }
    if (message.type === 'look') return this.look(message);
    const { data } = message;
    // An answer for the view shown before came too late.
    if (data.view !== this.looking.view) return;
    this.broken = data.broken;
    if (data.broken === null || !this.isSameView(data)) this.data = data;
    if (data.curve) this.looking = { ...this.looking, technique: data.curve.technique };
    if (data.pending === null) this.hideBusy();
    else this.showBusy();
    this.draw();
    this.store();
  }

  /** Whether data are of the view and the route that are shown. */
  private isSameView({ view, uri, routeUri }: PanelData): boolean {
    const shown = this.data;
    if (shown?.view !== view) return false;
    return routeUri === '' ? shown.uri === uri : shown.routeUri === routeUri;
  }

  /** Shows another view, or the same of something else. What is not named stays as it was. */
  private look({ view, technique, run, compared, months }: ChangeOfLook): void {
    const { looking } = this;
    const other = view !== looking.view;
    this.looking = lookOf({
      ...looking,
      view,
      technique: technique ?? looking.technique,
      run: run ?? looking.run,
      compared: compared ?? looking.compared,
      months: months ?? looking.months,
    });
    if (other) {
      window.scrollTo(0, 0);
      this.showBusy();
    }
    this.ask();
    this.draw();
    this.store();
  }

  private rankBy(objective: string): void {
    this.looking = { ...this.looking, objective };
    this.showBusy();
    this.ask();
    this.draw();
    this.store();
  }

  private ask(): void {
    this.host.send({ type: 'look', ...this.looking });
  }

  private store(): void {
    const uri = this.data?.uri;
    if (uri === undefined) return;
    const scroll = Math.round(window.scrollY);
    this.host.store({ version: panelVersion, uri, ...this.looking, scroll });
  }

  /** Shows that something is being computed, unless that ends before a person could read it. */
  private showBusy(): void {
    if (this.timer !== undefined || this.busy) return;
    this.timer = setTimeout(() => {
      this.busy = true;
      this.draw();
    }, busyDelayMs);
  }

  private hideBusy(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
    this.busy = false;
  }

  private status(): string {
    if (this.busy) return `${this.data?.pending ?? 'Reading the route'}…`;
    return this.said;
  }

  /** Says which text cannot be read and, where a view of before is shown, that it is one. */
  private notice(): Frame['broken'] {
    if (this.broken === null) return null;
    const { text, way } = this.broken;
    const kept = this.data !== undefined && this.data.broken === null;
    return { text: kept ? `${text} What stands below is from before that.` : text, way };
  }

  private draw(): void {
    const focused = document.activeElement;
    const root = selectElement(this.root);
    const { data } = this;
    const { view, objective } = this.looking;
    const frame = {
      route: data?.route ?? '',
      asOf: data?.asOf ?? '',
      view,
      status: this.status(),
      broken: this.notice(),
    };
    const pointed = pointedRow(this.root);
    const place = showFrame(root, frame, {
      look: (to) => this.look({ view: to, technique: null }),
      copy: () => this.host.send({ type: 'copy' }),
      mend: () => this.host.send({ type: 'mend' }),
    });
    const fits = data?.view === view ? data : undefined;
    place.classed('dimmed', this.broken !== null);
    place.attr('aria-busy', String(fits === undefined || fits.pending !== null));
    setText(
      ensureChild(place, 'p', 'message').classed('absent', (fits?.message ?? null) === null),
      fits?.message ?? '',
    );
    // Where a part of a view is missing, the view itself has the buttons beside it.
    const lacking = fits !== undefined && fits.message !== null ? fits.remedies : [];
    renderRemedies(place, lacking, this.host);
    this.rows.begin(`${view} ${objective} ${data?.routeUri ?? ''}`);
    const actions: ViewActions = {
      send: (message) => this.host.send(message),
      look: (to) => this.look(to),
      objective,
      rankBy: (objective) => this.rankBy(objective),
      redraw: () => this.draw(),
      rows: this.rows,
      width: this.root.clientWidth - 2 * padding,
    };
    for (const one of panelViews) {
      const body = ensureChild(place, 'div', `${one}-view`);
      const content = fits?.[one] ?? null;
      // The last drawing stays until the new numbers arrive, so that nothing jumps.
      const keep = one === view && fits !== undefined && fits.message === null && fits.pending !== null;
      body.classed('absent', content === null && !keep);
      if (!fits) continue;
      show[one](body, fits, actions);
    }
    if (focused instanceof HTMLElement && focused.isConnected && document.activeElement !== focused) {
      focused.focus({ preventScroll: true });
    }
    // What appears or goes away above the row that is pointed at does not move it.
    if (pointed?.row.isConnected) {
      const moved = pointed.row.getBoundingClientRect().top - pointed.top;
      if (Math.abs(moved) >= 1) window.scrollBy(0, moved);
    }
    if (this.scroll !== undefined && fits && fits.pending === null) {
      window.scrollTo(0, this.scroll);
      this.scroll = undefined;
    }
  }
}

/** The row of a list under the pointer, and where it stands in the window, in pixels. */
function pointedRow(root: HTMLElement): { readonly row: Element; readonly top: number } | undefined {
  const row = [...root.querySelectorAll('.view [data-key]:hover')].at(-1);
  return row && { row, top: row.getBoundingClientRect().top };
}

/** Draws the view of the data into its place; does nothing where the data have no such view. */
type ShowView = (body: HtmlSelection, data: PanelData, actions: ViewActions) => void;
const show: Readonly<Record<PanelView, ShowView>> = {
  week: (body, { week }, actions) => week && showWeek(body, week, actions),
  ranking: (body, { ranking }, actions) => ranking && showRanking(body, ranking, actions),
  curve: (body, { curve, techniques }, actions) => curve && showCurve(body, curve, techniques, actions),
  odds: (body, { odds, remedies }, actions) => odds && showOdds(body, odds, remedies, actions),
  review: (body, { review, remedies }, actions) => review && showReview(body, review, remedies, actions),
  progress: (body, { progress, remedies }, actions) =>
    progress && showProgress(body, progress, remedies, actions),
  after: (body, { after }, actions) => after && showAfter(body, after, actions),
  compare: (body, { compare, remedies }, actions) => compare && showCompare(body, compare, remedies, actions),
};

/** Padding at the left and at the right of the page, in pixels; panel.css has the same number. */
const padding = 12;
