import type { RunEditorMessage } from '../../../server/src/protocol/runLog/pageMessages.ts';
import { emptyDraft, outcomeShape, type RunDraft } from '../../../server/src/protocol/runLog/runDraft.ts';
import { runLogVersion, type RunForm } from '../../../server/src/protocol/runLog/runForm.ts';
import { formatCount } from '../../../server/src/text/format.ts';
import { formatTime } from '../../../server/src/text/time.ts';
import { elementById, fieldById, onClick, setChoices, setShown, setText } from '../elements.ts';
import { EveningRows } from './eveningRows.ts';
import { changeSentence, resultOf, writtenEvening, writtenRun } from './filledRun.ts';
import type { Host } from './host.ts';
import { keepAboveFoot } from './keepAboveFoot.ts';
import { moveOnEnter } from './moveOnEnter.ts';
import { checkTotal } from './timeChecks.ts';
import { markField, TimeRows, type TimesSum } from './timeRows.ts';
import { UseRows } from './useRows.ts';

const saveLabels = { run: 'Save the Run', evening: 'Save the Runs' } as const;

/** The page of a run: what is filled in goes to the editor at once, which keeps it until the run is logged. */
export class RunView {
  private readonly host: Host;
  private form: RunForm | undefined;
  private draft: RunDraft | undefined;
  /** What was filled in before the form was cleared. */
  private cleared: RunDraft | undefined;
  private readonly times = new TimeRows(
    (times) => this.change({ times: this.withLeftTimes(times) }),
    (sentence) => setText('problem', sentence),
  );
  private readonly uses = new UseRows((key, result) => {
    const others = (this.draft?.uses ?? []).filter((one) => one.key !== key);
    this.change({ uses: [...others, { key, ...result }] });
  });
  private readonly evening = new EveningRows((evening) => this.change({ evening }));
  private unreadable: readonly HTMLElement[] = [];

  constructor(host: Host) {
    this.host = host;
  }

  start(): void {
    this.host.listen((message) => this.handleMessage(message));
    for (const kind of ['run', 'evening'] as const)
      elementById(`kind-${kind}`).addEventListener('change', () => this.change({ kind }));
    elementById('outcome').addEventListener('change', () => {
      const { value } = fieldById('outcome');
      if (outcomeShape.fits(value)) this.change({ outcome: value });
    });
    this.follow('ended-at', 'change', (endedAt) => this.change({ endedAt }));
    this.follow('ended-by', 'change', (endedBy) => this.change({ endedBy }));
    this.follow('total', 'input', (total) => this.change({ total }));
    this.follow('began', 'input', (began) => this.change({ began }));
    this.follow('on', 'input', (on) => this.change({ on }));
    onClick('none-tried', () => this.tryNone());
    onClick('as-suggested', () => this.change({ uses: [] }));
    onClick('clear', () => this.clear());
    const form = elementById('form');
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.save();
    });
    // Said when a field is left, not with every letter.
    form.addEventListener('change', () => setText('said', elementById('sum').textContent));
    moveOnEnter(form, () => this.save());
    keepAboveFoot(form, elementById('foot'));
    this.host.send({ type: 'ready' });
  }

  private follow(id: string, event: 'input' | 'change', tell: (value: string) => void): void {
    elementById(id).addEventListener(event, () => tell(fieldById(id).value));
  }

  private handleMessage(message: RunEditorMessage): void {
    if (message.type === 'refused') {
      this.showSaving(false);
      setText('problem', message.text);
      return;
    }
    const { form, draft, file } = message;
    this.host.store({ version: runLogVersion, uri: file });
    this.form = form;
    setText('route', form.route);
    setShown('form', true);
    this.fill(draft ?? emptyDraft(form));
    if (this.draft?.kind === 'run') elementById('time-0').focus();
  }

  /** Fills every field. */
  private fill(draft: RunDraft): void {
    const { form } = this;
    if (!form) return;
    this.draft = draft;
    this.times.build(form, draft);
    this.uses.build(form);
    this.evening.build(form, draft);
    fieldById('outcome').value = draft.outcome;
    fieldById('total').value = draft.total;
    fieldById('began').value = draft.began;
    fieldById('on').value = draft.on;
    setChoices(
      'ended-at',
      [
        { value: '', text: 'Choose a segment' },
        ...form.segments.map(({ id, name }) => ({ value: id, text: name })),
      ],
      draft.endedAt,
    );
    this.refresh();
  }

  private change(part: Partial<RunDraft>): void {
    if (!this.draft) return;
    this.draft = { ...this.draft, ...part };
    this.cleared = undefined;
    setText('problem', '');
    this.host.send({ type: 'draft', draft: this.draft });
    this.refresh();
  }

  /** Shows what belongs to what is filled in: fields, sums, problems. */
  private refresh(): void {
    const { form, draft } = this;
    if (!form || !draft) return;
    const { kind, outcome } = draft;
    for (const one of ['run', 'evening'] as const) {
      const choice = fieldById(`kind-${one}`);
      if (choice instanceof HTMLInputElement) choice.checked = one === kind;
    }
    setShown('one', kind === 'run');
    setShown('evening', kind === 'evening');
    setShown('ended-at-field', outcome !== 'finished');
    setShown('ended-by-field', outcome === 'miss' && draft.endedAt !== '');
    setShown('total-field', outcome === 'finished');
    setChoices('ended-by', this.endingTechniques(), draft.endedBy);
    const sum = this.times.refresh(form, draft);
    setShown('times', sum.segments > 0);
    setShown('times-hint', sum.segments > 0);
    setShown('no-times', sum.segments === 0);
    const total = checkTotal(draft.total, sum.seconds, sum.filled === sum.segments);
    markField(elementById('total'), elementById('total-problem'), total);
    const isTotalWrong = outcome === 'finished' && total.isUnreadable;
    this.unreadable = [...sum.unreadable, ...(isTotalWrong ? [elementById('total')] : [])];
    const { tried, landed } = this.uses.refresh(form, draft);
    setShown('uses', form.uses.length > 0);
    const landedSentence =
      tried === 0 ? 'No technique was tried.' : `${landed} of ${tried} tried techniques landed.`;
    setText('sum', kind === 'run' ? [...sumSentences(sum), landedSentence].join(' ') : '');
    setText('save', saveLabels[kind]);
    setText('clear', this.cleared ? 'Bring It Back' : 'Clear the Form');
    const changed = changeSentence(form, draft);
    setText('changed', changed);
    setShown('changed', changed !== '');
  }

  /** The techniques that can have ended the run where it ended. */
  private endingTechniques(): { value: string; text: string }[] {
    const here = (this.form?.uses ?? []).filter(({ segment }) => segment === this.draft?.endedAt);
    const once = here.filter(
      ({ technique }, at) => here.findIndex((one) => one.technique === technique) === at,
    );
    return [
      { value: '', text: 'Not known' },
      ...once.map(({ technique, name }) => ({ value: technique, text: name })),
    ];
  }

  /** The times of the form, with those of segments that the route no longer has: they stay in the draft. */
  private withLeftTimes(times: RunDraft['times']): RunDraft['times'] {
    const shown = new Set(times.map(({ segment }) => segment));
    return [...times, ...(this.draft?.times ?? []).filter(({ segment }) => !shown.has(segment))];
  }

  private tryNone(): void {
    const { form, draft } = this;
    if (!form || !draft) return;
    const none = form.uses.filter((use) => resultOf(use, draft).tried);
    const others = draft.uses.filter(({ key }) => !none.some((use) => use.key === key));
    this.change({ uses: [...others, ...none.map(({ key }) => ({ key, tried: false, landed: false }))] });
  }

  /** Empties the form, or brings back what the last press of the button took out. */
  private clear(): void {
    const { form, draft, cleared } = this;
    if (!form || !draft) return;
    this.cleared = cleared ? undefined : draft;
    const next = cleared ?? { ...emptyDraft(form), kind: draft.kind };
    this.host.send({ type: 'draft', draft: cleared ?? null });
    setText('problem', '');
    this.fill(next);
    setText('said', cleared ? 'What was filled in is back.' : 'The form is empty.');
  }

  private save(): void {
    const { form, draft } = this;
    if (!form || !draft) return;
    if (draft.kind === 'run') {
      const [first] = this.unreadable;
      if (first) {
        setText('problem', `${formatCount(this.unreadable.length, 'time')} cannot be read.`);
        first.focus();
        return;
      }
      if (draft.outcome !== 'finished' && draft.endedAt === '') {
        setText('problem', 'Choose the segment where the run ended.');
        elementById('ended-at').focus();
        return;
      }
    }
    setText('problem', '');
    this.showSaving(true);
    this.host.send(
      draft.kind === 'run'
        ? { type: 'run', run: writtenRun(form, draft) }
        : { type: 'evening', evening: writtenEvening(form, draft) },
    );
  }

  private showSaving(isSaving: boolean): void {
    const button = elementById('save');
    if (button instanceof HTMLButtonElement) button.disabled = isSaving;
  }
}

/** What the times come to; nothing where no segment can have one. */
function sumSentences({ seconds, usual, filled, segments }: TimesSum): string[] {
  if (segments === 0) return [];
  const count = `${filled} of ${formatCount(segments, 'segment')} filled`;
  return [filled === 0 ? `${count}.` : `${count}: ${formatTime(seconds)}, usually ${formatTime(usual)}.`];
}
