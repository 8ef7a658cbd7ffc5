import type { PanelViewMessage, PanelView } from '../../server/src/protocol/panel.ts';
import { button, child, type HtmlPlace } from './dom.ts';

/** What a view can ask for. */
export interface ViewActions {
  send(message: PanelViewMessage): void;
  showView(view: PanelView, technique: string | null): void;
  /** Id of what the ranking is asked for by. */
  readonly objective: string;
  /** Has the ranking made by another objective. */
  rankBy(objective: string): void;
  /** Draws again with the same data, for what the page alone decides, such as which row is open. */
  redraw(): void;
  /** Width of the page's content in pixels. */
  readonly width: number;
}

/** A technique that the week file can say something of. */
interface Changeable {
  readonly technique: string;
  readonly name: string;
  readonly state: string;
  readonly pinned: boolean;
  readonly leftOut: boolean;
}

/**
 * What can be done with a technique, in the week's list in short. Each change is an edit of the week file that the editor can undo.
 */
export function techniqueActions(
  parent: HtmlPlace,
  { technique, name, state, pinned, leftOut }: Changeable,
  actions: ViewActions,
  from: PanelView,
): void {
  const brief = from === 'week';
  const bar = child(parent, 'div', 'actions').attr('role', 'group').attr('aria-label', `Actions for ${name}`);
  const change = (what: Extract<PanelViewMessage, { type: 'change' }>['change']) => () => {
    actions.send({ type: 'change', change: what, technique });
  };
  button(
    bar,
    'pin',
    pinned ? 'Unpin' : 'Pin',
    change(pinned ? 'unpin' : 'pin'),
    `${pinned ? 'Unpin' : 'Pin'} ${name}`,
  );
  button(
    bar,
    'leave-out',
    leftOut ? 'Take back' : 'Leave out',
    change(leftOut ? 'take-back' : 'leave-out'),
    `${leftOut ? 'Take back' : 'Leave out'} ${name}`,
  );
  const isLearning = state === 'learning';
  if (!brief) {
    button(
      bar,
      'learning',
      'Set to learning',
      isLearning ? () => undefined : change('learning'),
      `Set to learning: ${name}`,
    ).attr('aria-disabled', isLearning ? 'true' : null);
  }
  if (from !== 'curve') {
    button(bar, 'curve', 'Show curve', () => actions.showView('curve', technique), `Show curve of ${name}`);
  }
  if (brief) return;
  button(
    bar,
    'open',
    'Open in route',
    () => actions.send({ type: 'open', technique }),
    `Open in route: ${name}`,
  );
}
