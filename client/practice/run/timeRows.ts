import type { RunDraft } from '../../../server/src/protocol/runLog/runDraft.ts';
import type { FormSegment, RunForm } from '../../../server/src/protocol/runLog/runForm.ts';
import { timesInOrder } from '../../../server/src/protocol/runLog/writtenTimes.ts';
import { formatCount } from '../../../server/src/text/format.ts';
import { formatTime } from '../../../server/src/text/time.ts';
import { elementById, newElement, rowHeading } from '../elements.ts';
import { playedSegments } from './filledRun.ts';
import { checkSegmentTime, type CheckedTime } from './timeChecks.ts';

interface TimeRow {
  readonly segment: FormSegment;
  readonly row: HTMLTableRowElement;
  readonly field: HTMLInputElement;
  readonly problem: HTMLElement;
}

/** What the times of a run come to. */
export interface TimesSum {
  /** Seconds of the segments that have a time, and what is usual for these. */
  readonly seconds: number;
  readonly usual: number;
  readonly filled: number;
  /** How many segments can have a time. */
  readonly segments: number;
  readonly unreadable: readonly HTMLInputElement[];
}

/** A row for each segment: its name, a field for its time, and its usual time. */
export class TimeRows {
  private readonly changed: (times: RunDraft['times']) => void;
  private readonly refuse: (sentence: string) => void;
  private rows: readonly TimeRow[] = [];

  /** @param refuse tells why nothing was pasted */
  constructor(changed: (times: RunDraft['times']) => void, refuse: (sentence: string) => void) {
    this.changed = changed;
    this.refuse = refuse;
  }

  /** Creates the rows. */
  build({ segments }: RunForm, draft: RunDraft): void {
    const times = new Map(draft.times.map(({ segment, time }) => [segment, time]));
    this.rows = segments.map((segment, at) => {
      const label = newElement('label', { text: segment.name });
      label.htmlFor = `time-${at}`;
      const field = newElement('input', { id: `time-${at}`, name: 'time' });
      field.autocomplete = 'off';
      field.spellcheck = false;
      field.value = times.get(segment.id) ?? '';
      field.setAttribute('aria-describedby', `usual-${at} time-problem-${at}`);
      const problem = newElement('p', { id: `time-problem-${at}`, name: 'problem' });
      problem.hidden = true;
      const usual = newElement('td', { id: `usual-${at}`, name: 'number', text: formatTime(segment.usual) });
      const row = newElement('tr', {}, rowHeading(label, problem), newElement('td', {}, field), usual);
      field.addEventListener('input', () => this.tell());
      field.addEventListener('paste', (event) => this.paste(event, at));
      return { segment, row, field, problem };
    });
    elementById('time-rows').replaceChildren(...this.rows.map(({ row }) => row));
  }

  /** Shows the rows of the segments that the run came through, and what is wrong with their times. */
  refresh(form: RunForm, draft: RunDraft): TimesSum {
    const played = new Set(playedSegments(form, draft).map(({ id }) => id));
    for (const { row, segment } of this.rows) row.hidden = !played.has(segment.id);
    const shown = this.rows.filter(({ row }) => !row.hidden);
    const checked = shown.map(({ segment, field, problem }) => {
      const check = checkSegmentTime(segment, field.value);
      markField(field, problem, check);
      return { ...check, field, segment };
    });
    const timed = checked.filter(({ seconds }) => seconds !== undefined);
    return {
      seconds: timed.reduce((sum, { seconds }) => sum + (seconds ?? 0), 0),
      usual: timed.reduce((sum, { segment }) => sum + segment.usual, 0),
      filled: timed.length,
      segments: shown.length,
      unreadable: checked.flatMap(({ isUnreadable, field }) => (isUnreadable ? [field] : [])),
    };
  }

  private tell(): void {
    this.changed(this.rows.map(({ segment, field }) => ({ segment: segment.id, time: field.value })));
  }

  /** Several times that are pasted fill this field and those below it; one is pasted as any text. */
  private paste(event: ClipboardEvent, at: number): void {
    const times = timesInOrder(event.clipboardData?.getData('text') ?? '');
    if (times.length < 2) return;
    event.preventDefault();
    const below = this.rows.slice(at).filter(({ row }) => !row.hidden);
    if (times.length > below.length) {
      this.refuse(
        `Nothing was pasted: these are ${times.length} times, and from here on the run has ${formatCount(below.length, 'segment')}.`,
      );
      return;
    }
    for (const [index, { field }] of below.entries()) field.value = times[index] ?? field.value;
    this.tell();
  }
}

/** Shows what is wrong with a field beside it; screen readers hear it with the field. */
export function markField(
  field: HTMLElement,
  place: HTMLElement,
  { problem, isUnreadable }: CheckedTime,
): void {
  place.hidden = problem === '';
  if (place.textContent !== problem) place.textContent = problem;
  field.classList.toggle('doubtful', problem !== '');
  if (isUnreadable) field.setAttribute('aria-invalid', 'true');
  else field.removeAttribute('aria-invalid');
}
