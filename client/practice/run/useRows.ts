import type { RunDraft } from '../../../server/src/protocol/runLog/runDraft.ts';
import type { FormUse, RunForm } from '../../../server/src/protocol/runLog/runForm.ts';
import { elementById, newElement, rowHeading } from '../elements.ts';
import { reachedUses, resultOf, type UseResult } from './filledRun.ts';

interface UseRow {
  readonly use: FormUse;
  readonly row: HTMLTableRowElement;
  readonly tried: HTMLInputElement;
  readonly landed: HTMLInputElement;
}

/** How many of the techniques that a run reached were tried, and how many of these landed. */
export interface UseCount {
  readonly tried: number;
  readonly landed: number;
}

/** A row for each technique in the order of the route, below its segment: whether it was tried, and whether it landed. */
export class UseRows {
  private readonly changed: (key: string, result: UseResult) => void;
  private rows: readonly UseRow[] = [];
  private headings: readonly { readonly segment: string; readonly row: HTMLTableRowElement }[] = [];

  constructor(changed: (key: string, result: UseResult) => void) {
    this.changed = changed;
  }

  /** Creates the rows. */
  build({ segments, uses }: RunForm): void {
    this.rows = uses.map((use, at) => this.rowOf(use, at));
    const used = segments.filter(({ id }) => uses.some(({ segment }) => segment === id));
    this.headings = used.map(({ id, name }) => {
      const heading = newElement('th', { text: name, name: 'group' });
      heading.colSpan = 3;
      heading.scope = 'rowgroup';
      return { segment: id, row: newElement('tr', {}, heading) };
    });
    const groups = this.headings.map(({ segment, row }) =>
      newElement(
        'tbody',
        { name: 'use-group' },
        row,
        ...this.rows.filter(({ use }) => use.segment === segment).map((one) => one.row),
      ),
    );
    const table = elementById('uses');
    for (const old of table.querySelectorAll('tbody')) old.remove();
    table.append(...groups);
  }

  /** Shows the rows that the run reached, with what is known of each. */
  refresh(form: RunForm, draft: RunDraft): UseCount {
    const reached = new Set(reachedUses(form, draft));
    const results = this.rows.flatMap(({ use, row, tried, landed }) => {
      row.hidden = !reached.has(use);
      if (row.hidden) return [];
      const result = resultOf(use, draft);
      tried.checked = result.tried;
      landed.checked = result.tried && result.landed;
      landed.disabled = !result.tried;
      return result.tried ? [result] : [];
    });
    for (const { segment, row } of this.headings)
      row.hidden = !this.rows.some((one) => one.use.segment === segment && !one.row.hidden);
    return { tried: results.length, landed: results.filter(({ landed }) => landed).length };
  }

  private rowOf(use: FormUse, at: number): UseRow {
    const tried = newElement('input', { id: `tried-${at}` });
    const landed = newElement('input', { id: `landed-${at}` });
    tried.type = landed.type = 'checkbox';
    tried.setAttribute('aria-label', `${use.name}: tried`);
    landed.setAttribute('aria-label', `${use.name}: landed`);
    // What is newly tried has landed, until the tick is taken away.
    tried.addEventListener('change', () =>
      this.changed(use.key, { tried: tried.checked, landed: tried.checked }),
    );
    landed.addEventListener('change', () => this.changed(use.key, { tried: true, landed: landed.checked }));
    const row = newElement(
      'tr',
      {},
      rowHeading(newElement('span', { text: use.name })),
      newElement('td', {}, tried),
      newElement('td', {}, landed),
    );
    return { use, row, tried, landed };
  }
}
