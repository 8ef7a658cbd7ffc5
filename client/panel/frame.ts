import { panelViews, viewTitles, type PanelView } from '../../server/src/protocol/panel/views.ts';
import { ensureButton, ensureChild, renderList, setProse, setText, type HtmlSelection } from './dom.ts';

/** The texts and the state that the frame around the views shows. */
export interface Frame {
  readonly route: string;
  readonly asOf: string;
  readonly view: PanelView;
  /** What is being computed, or what was done last; empty where neither applies. */
  readonly status: string;
  /** Text that cannot be read, with the words of the button that leads there. */
  readonly broken: { readonly text: string; readonly way: string } | null;
}

/** The actions that the frame can start. */
export interface FrameActions {
  readonly look: (view: PanelView) => void;
  readonly copy: () => void;
  readonly mend: () => void;
}

/** Draws the head of the panel with its tabs; returns the element that the view is drawn into. */
export function showFrame(
  root: HtmlSelection,
  { route, asOf, view, status, broken }: Frame,
  actions: FrameActions,
): HtmlSelection {
  const head = ensureChild(root, 'header', 'head');
  const title = ensureChild(head, 'div', 'title');
  setText(ensureChild(title, 'h1', 'route'), route === '' ? 'Week and practice' : route);
  setText(ensureChild(title, 'span', 'as-of'), asOf === '' ? '' : `as of ${asOf}`);
  ensureButton(title, 'copy', 'Copy as Markdown', actions.copy);
  const bar = ensureChild(head, 'div', 'bar-row');
  const tabs = ensureChild(bar, 'div', 'tabs').attr('role', 'tablist').attr('aria-label', 'Views');
  renderList(
    tabs,
    'button',
    'tab',
    panelViews,
    (one) => one,
    (tab, one) => {
      const chosen = one === view;
      setText(tab, viewTitles[one])
        .attr('aria-selected', String(chosen))
        .attr('tabindex', chosen ? 0 : -1)
        .on('click', () => actions.look(one))
        .on('keydown', (event: KeyboardEvent) => moveTabFocus(event, one, tabs, actions));
    },
    (tab, one) => {
      tab.attr('type', 'button').attr('role', 'tab').attr('id', `tab-${one}`).attr('aria-controls', 'view');
    },
  );
  setText(ensureChild(bar, 'p', 'status').attr('role', 'status'), status).attr('title', status);
  const notice = ensureChild(head, 'div', 'broken')
    .attr('role', 'status')
    .classed('absent', broken === null);
  setProse(ensureChild(notice, 'p', 'broken-text'), broken?.text ?? '');
  ensureButton(notice, 'mend', broken?.way ?? '', actions.mend);
  return ensureChild(root, 'section', 'view')
    .attr('id', 'view')
    .attr('role', 'tabpanel')
    .attr('tabindex', '0')
    .attr('aria-labelledby', `tab-${view}`);
}

/** The head stays at the top of the window only while it takes no more than this share of its height. */
const greatestShare = 1 / 3;

/**
 * Tells the style how high the head is, so that what gets the focus is scrolled to a place below it. In a low window (a
 * small one, or a zoomed one) and where the head is high, it scrolls away with the page.
 */
export function followHead(root: HTMLElement): void {
  const head = root.querySelector<HTMLElement>('.head');
  if (!head) return;
  const measure = (): void => {
    const height = head.offsetHeight;
    const stays = height <= window.innerHeight * greatestShare;
    head.classList.toggle('scrolls', !stays);
    document.documentElement.style.setProperty('--head-height', stays ? `${height}px` : '0px');
  };
  new ResizeObserver(measure).observe(head);
  window.addEventListener('resize', measure);
}

/** Left, Right, Home and End choose a tab and move the focus to it. */
function moveTabFocus(
  event: KeyboardEvent,
  from: PanelView,
  tabs: HtmlSelection,
  actions: FrameActions,
): void {
  const at = panelViews.indexOf(from);
  const last = panelViews.length - 1;
  const to = {
    ArrowRight: at === last ? 0 : at + 1,
    ArrowLeft: at === 0 ? last : at - 1,
    Home: 0,
    End: last,
  }[event.key];
  const view = to === undefined ? undefined : panelViews[to];
  if (view === undefined) return;
  event.preventDefault();
  actions.look(view);
  tabs.node()?.querySelector<HTMLElement>(`#tab-${view}`)?.focus();
}
