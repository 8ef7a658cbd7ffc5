import type { HtmlSelection } from './dom.ts';

/** A row of a list, and whether the answer that is shown now has it no longer. */
export interface SteadyRow<T> {
  readonly key: string;
  /** What the answer says of it; of a row that is gone, what the last answer said that had it. */
  readonly item: T;
  readonly gone: boolean;
}

/**
 * Keeps rows where a person points at them or has just changed them. While the pointer is over a list, rows keep their
 * order, those that an answer no longer has stay, and new ones come at the end; once the pointer has left, the list is
 * as the answer has it. A row whose own button was pressed stays until another view or route is shown, so that the
 * change can be undone at the place where it was made.
 */
export class SteadyRows {
  private readonly redraw: () => void;
  private shown = new WeakMap<Element, readonly SteadyRow<unknown>[]>();
  private readonly watched = new WeakSet<Element>();
  private readonly changed = new Set<string>();
  private subject = '';

  /** @param redraw draws the last answer again */
  constructor(redraw: () => void) {
    this.redraw = redraw;
  }

  /** Forgets what was shown and changed, where the subject is another one: a view of a route. */
  begin(subject: string): void {
    if (subject === this.subject) return;
    this.subject = subject;
    this.shown = new WeakMap();
    this.changed.clear();
  }

  /** Keeps the rows of a technique in their places from now on: its button was pressed. */
  keep(technique: string): void {
    this.changed.add(technique);
  }

  /**
   * The rows of a list in the order to draw them.
   *
   * @param list the element whose children they are
   * @param keyOf an item's key; that of a row with buttons is its technique
   */
  of<T>(list: HtmlSelection, items: readonly T[], keyOf: (item: T, index: number) => string): SteadyRow<T>[] {
    const node = list.node();
    const fresh = items.map((item, index) => ({ key: keyOf(item, index), item, gone: false }));
    if (!node) return fresh;
    this.watch(node);
    const before = (this.shown.get(node) ?? []) as readonly SteadyRow<T>[];
    const rows = node.matches(':hover') ? inOrderOf(before, fresh) : this.withChanged(before, fresh);
    this.shown.set(node, rows);
    return rows;
  }

  /** The rows of an answer, and between them those that were changed here and are gone, at their former places. */
  private withChanged<T>(before: readonly SteadyRow<T>[], fresh: readonly SteadyRow<T>[]): SteadyRow<T>[] {
    const here = new Set(fresh.map(({ key }) => key));
    const rows = [...fresh];
    before.forEach((row, index) => {
      if (!here.has(row.key) && this.changed.has(row.key))
        rows.splice(Math.min(index, rows.length), 0, { ...row, gone: true });
    });
    return rows;
  }

  private watch(node: Element): void {
    if (this.watched.has(node)) return;
    this.watched.add(node);
    // After the event, when the browser no longer counts the pointer as inside.
    node.addEventListener('pointerleave', () => setTimeout(this.redraw));
  }
}

function inOrderOf<T>(before: readonly SteadyRow<T>[], fresh: readonly SteadyRow<T>[]): SteadyRow<T>[] {
  const left = new Map(fresh.map((row) => [row.key, row]));
  const kept = before.map((row) => {
    const now = left.get(row.key) ?? { ...row, gone: true };
    left.delete(row.key);
    return now;
  });
  return [...kept, ...left.values()];
}
