import type { PanelViewMessage } from '../../server/src/protocol/panel/pageMessages.ts';
import type { ChangeOfLook } from '../../server/src/protocol/panel/look.ts';
import type { PanelView } from '../../server/src/protocol/panel/views.ts';
import type { StandingFields } from '../../server/src/protocol/standing.ts';
import type { SteadyRows } from './steadyRows.ts';
import { ensureButton, ensureChild, type HtmlSelection } from './dom.ts';

/** The actions that a view can start. */
export interface ViewActions {
  send(message: PanelViewMessage): void;
  /** Shows another view, or the same of something else. */
  look(to: ChangeOfLook): void;
  /** Id of the objective that the ranking is made by. */
  readonly objective: string;
  /** Asks for the ranking by another objective. */
  rankBy(objective: string): void;
  /** Draws again with the same data, after a change that only the page knows of, such as a row that was opened. */
  redraw(): void;
  /** Keeps rows where a person points at them or has changed them. */
  readonly rows: SteadyRows;
  /** Width of the page's content in pixels. */
  readonly width: number;
}

/** A technique with where it stands and its entries in the week file, which the buttons change. */
interface Changeable extends Pick<StandingFields, 'standing'> {
  readonly technique: string;
  readonly name: string;
  readonly pinned: boolean;
  readonly leftOut: boolean;
}

/**
 * The buttons of a technique; the list of the week has fewer of them. Each change is an edit of the week file that the
 * editor can undo.
 */
export function techniqueActions(
  parent: HtmlSelection,
  { technique, name, standing, pinned, leftOut }: Changeable,
  actions: ViewActions,
  from: PanelView,
): void {
  const brief = from === 'week';
  const bar = ensureChild(parent, 'div', 'actions')
    .attr('role', 'group')
    .attr('aria-label', `Actions for ${name}`);
  const change = (what: Extract<PanelViewMessage, { type: 'change' }>['change']) => () => {
    actions.rows.keep(technique);
    actions.send({ type: 'change', change: what, technique });
  };
  ensureButton(
    bar,
    'pin',
    pinned ? 'Unpin' : 'Pin',
    change(pinned ? 'unpin' : 'pin'),
    `${pinned ? 'Unpin' : 'Pin'} ${name}`,
  );
  ensureButton(
    bar,
    'leave-out',
    leftOut ? 'Take back' : 'Leave out',
    change(leftOut ? 'take-back' : 'leave-out'),
    `${leftOut ? 'Take back' : 'Leave out'} ${name}`,
  );
  const isLearning = standing === 'learning';
  if (!brief) {
    ensureButton(
      bar,
      'learning',
      'Take up',
      isLearning ? () => undefined : change('learning'),
      `Take up ${name}`,
    ).attr('aria-disabled', isLearning ? 'true' : null);
  }
  if (from !== 'curve') {
    ensureButton(
      bar,
      'curve',
      'Show curve',
      () => actions.look({ view: 'curve', technique }),
      `Show curve of ${name}`,
    );
  }
  if (brief) return;
  ensureButton(
    bar,
    'start',
    'Start a block',
    () => actions.send({ type: 'practise', technique }),
    `Start a block of ${name}`,
  );
  ensureButton(
    bar,
    'open',
    'Open in route',
    () => actions.send({ type: 'open', technique }),
    `Open in route: ${name}`,
  );
}
