import type { RunDraft } from '../../../server/src/protocol/runLog/runDraft.ts';
import type { RunForm } from '../../../server/src/protocol/runLog/runForm.ts';
import type { RunEnding } from '../../../server/src/protocol/runLog/writtenRun.ts';
import { elementById, fieldById, newElement, rowHeading } from '../elements.ts';

type Evening = RunDraft['evening'];

const endings: readonly { readonly why: RunEnding; readonly title: string }[] = [
  { why: 'reset', title: 'resets' },
  { why: 'miss', title: 'misses' },
  { why: 'death', title: 'deaths' },
];
const single = ['date', 'runs', 'finished', 'minutes'] as const;

/** The fields of an evening in short: counts of its runs, where they ended, and what was tried in all of them. */
export class EveningRows {
  private readonly changed: (evening: Evening) => void;
  /** Reads the fields of the two tables. */
  private read: () => Pick<Evening, 'ended' | 'tried'> = () => ({ ended: [], tried: [] });

  constructor(changed: (evening: Evening) => void) {
    this.changed = changed;
    for (const id of single) fieldById(id).addEventListener('input', () => this.tell());
  }

  /** Creates the rows of both tables, and fills everything. */
  build({ segments, uses }: RunForm, { evening }: RunDraft): void {
    for (const id of single) fieldById(id).value = evening[id];
    const ended = segments.flatMap(({ id, name }) =>
      endings.map(({ why, title }) => {
        const before = evening.ended.find((one) => one.segment === id && one.why === why);
        return { segment: id, why, field: this.countField(`${name}: ${title}`, before?.runs) };
      }),
    );
    const tried = uses.map(({ key, name }) => {
      const before = evening.tried.find((one) => one.key === key);
      return {
        key,
        landed: this.countField(`${name}: landed`, before?.landed),
        tries: this.countField(`${name}: tries`, before?.tries),
      };
    });
    elementById('ending-rows').replaceChildren(
      ...segments.map(({ id, name }) =>
        rowOf(
          name,
          ended.filter(({ segment }) => segment === id).map(({ field }) => field),
        ),
      ),
    );
    elementById('count-rows').replaceChildren(
      ...uses.map(({ name }, at) => rowOf(name, [tried[at]!.landed, tried[at]!.tries])),
    );
    this.read = () => ({
      ended: ended.flatMap(({ segment, why, field: { value } }) =>
        value.trim() === '' ? [] : [{ segment, why, runs: value }],
      ),
      tried: tried.flatMap(({ key, landed: { value: landed }, tries: { value: tries } }) =>
        `${landed}${tries}`.trim() === '' ? [] : [{ key, landed, tries }],
      ),
    });
  }

  private tell(): void {
    const [date, runs, finished, minutes] = single.map((id) => fieldById(id).value) as [
      string,
      string,
      string,
      string,
    ];
    this.changed({ date, runs, finished, minutes, ...this.read() });
  }

  private countField(label: string, value = ''): HTMLInputElement {
    const field = newElement('input', { name: 'count' });
    field.inputMode = 'numeric';
    field.autocomplete = 'off';
    field.value = value;
    field.setAttribute('aria-label', label);
    field.addEventListener('input', () => this.tell());
    return field;
  }
}

function rowOf(name: string, fields: readonly HTMLInputElement[]): HTMLTableRowElement {
  return newElement(
    'tr',
    {},
    rowHeading(newElement('span', { text: name })),
    ...fields.map((field) => newElement('td', {}, field)),
  );
}
