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

/** The field for the runs that ended in a segment for one reason. */
interface EndingField {
  readonly segment: string;
  readonly why: RunEnding;
  readonly runs: HTMLInputElement;
}

/** The fields of a use. */
interface CountFields {
  readonly key: string;
  readonly landed: HTMLInputElement;
  readonly tries: HTMLInputElement;
}

/** The fields of several runs, summed up: their counts, where they ended, and what was tried in all of them. */
export class EveningRows {
  private readonly changed: (evening: Evening) => void;
  private ended: readonly EndingField[] = [];
  private tried: readonly CountFields[] = [];

  constructor(changed: (evening: Evening) => void) {
    this.changed = changed;
    for (const id of single) fieldById(id).addEventListener('input', () => this.tell());
  }

  /** Creates the rows of both tables, and fills everything. */
  build({ segments, uses }: RunForm, { evening }: RunDraft): void {
    for (const id of single) fieldById(id).value = evening[id];
    this.ended = segments.flatMap(({ id, name }) =>
      endings.map(({ why, title }) => {
        const before = evening.ended.find((one) => one.segment === id && one.why === why);
        return { segment: id, why, runs: this.countField(`${name}: ${title}`, before?.runs) };
      }),
    );
    this.tried = uses.map(({ key, name }) => {
      const before = evening.tried.find((one) => one.key === key);
      return {
        key,
        landed: this.countField(`${name}: landed`, before?.landed),
        tries: this.countField(`${name}: tries`, before?.tries),
      };
    });
    const endedIn = (id: string) => this.ended.filter(({ segment }) => segment === id);
    elementById('ending-rows').replaceChildren(
      ...segments.map(({ id, name }) => rowOf(name, ...endedIn(id).map(({ runs }) => runs))),
    );
    elementById('count-rows').replaceChildren(
      ...this.tried.map(({ landed, tries }, at) => rowOf(uses[at]!.name, landed, tries)),
    );
  }

  private tell(): void {
    const ended = this.ended.map(({ runs: field, ...rest }) => ({ ...rest, runs: field.value }));
    const tried = this.tried.map(({ key, landed, tries }) => ({
      key,
      landed: landed.value,
      tries: tries.value,
    }));
    this.changed({
      date: fieldById('date').value,
      runs: fieldById('runs').value,
      finished: fieldById('finished').value,
      minutes: fieldById('minutes').value,
      ended: ended.filter((one) => one.runs.trim() !== ''),
      tried: tried.filter(({ landed, tries }) => `${landed}${tries}`.trim() !== ''),
    });
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

function rowOf(name: string, ...fields: readonly HTMLInputElement[]): HTMLTableRowElement {
  return newElement(
    'tr',
    {},
    rowHeading(newElement('span', { text: name })),
    ...fields.map((field) => newElement('td', {}, field)),
  );
}
