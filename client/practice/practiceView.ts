import {
  firstBindings,
  practiceActions,
  type Bindings,
  type PracticeAction,
  type PracticeData,
  type PracticePhase,
  type ToPractice,
} from '../../server/src/protocol/practice.ts';
import { clockText, paceOf } from '../../server/src/protocol/pace.ts';
import { BindingList } from './bindingList.ts';
import type { Host } from './host.ts';
import { Keys } from './keyboardInput.ts';
import { Pads } from './gamepadInput.ts';
import { numberIn, onClick, place, say, show } from './elements.ts';

/** Milliseconds between two looks at the clock. */
const tick = 250;
/** Milliseconds after which a press without an answer is pointed out: a busy machine takes less. */
const silentAfter = 3000;
/** Attempts of the tape that are shown. */
const shownTape = 60;

const counting: ReadonlySet<PracticePhase> = new Set(['block', 'up']);

const doNames: Readonly<Record<PracticeAction, string>> = {
  landed: 'Landed',
  missed: 'Missed',
  back: 'Take Back',
  end: 'End Block',
};

/** The practice view: shows the block that the editor keeps, and tells it of keys. */
export class PracticeView {
  private readonly host: Host;
  private readonly keys: Keys;
  private readonly pads: Pads;
  private readonly list: BindingList;
  private data: PracticeData | undefined;
  private bindings: Bindings = firstBindings;
  /** What the editor's clock is ahead of the page's, ms: they may be on two machines. */
  private ahead = 0;
  private presses = 0;
  private readonly pressed = new Map<number, number>();
  private phase: PracticePhase | undefined;

  constructor(host: Host) {
    this.host = host;
    const bindings = (): Bindings => this.bindings;
    const act = (action: PracticeAction): void => this.act(action);
    this.keys = new Keys({ bindings, act, chosen: (key) => this.list.keyChosen(key) });
    this.pads = new Pads({ bindings, act, chosen: (button) => this.list.buttonChosen(button) });
    this.list = new BindingList({
      bindings,
      bind: (changed) => {
        this.bindings = changed;
        this.host.tell({ type: 'bind', bindings: changed });
        this.pads.watch();
        this.draw();
      },
      askKey: (asks) => (asks ? this.keys.ask() : this.keys.stopAsking()),
      askButton: (asks) => (asks ? this.pads.ask() : this.pads.stopAsking()),
    });
  }

  start(): void {
    this.host.listen((message) => this.take(message));
    for (const action of practiceActions) onClick(`do-${action}`, () => this.act(action));
    for (const type of [
      'timeOnly',
      'leaveOut',
      'next',
      'other',
      'close',
      'correct',
      'keep',
      'less',
      'more',
    ] as const)
      onClick(type, () => this.host.tell({ type }));
    place('counts').addEventListener('submit', (event) => {
      event.preventDefault();
      this.sendCounts();
    });
    window.addEventListener('focus', () => this.drawFocus());
    window.addEventListener('blur', () => this.drawFocus());
    setInterval(() => this.drawTime(), tick);
    this.list.show();
    this.drawFocus();
    this.host.tell({ type: 'ready' });
  }

  private act(action: PracticeAction): void {
    const { data } = this;
    if (!data || !counting.has(data.phase)) return;
    this.presses += 1;
    this.pressed.set(this.presses, performance.now());
    this.host.tell({ type: 'press', press: this.presses, action });
  }

  private take(message: ToPractice): void {
    if (message.type === 'answered') {
      const start = this.pressed.get(message.press);
      this.pressed.delete(message.press);
      // For whoever measures how long a press takes to be written, or to be answered without that.
      if (start !== undefined) performance.measure(message.written ? 'attempt' : 'refused', { start });
      return;
    }
    this.data = message.data;
    this.bindings = message.data.bindings;
    this.ahead = message.data.now - Date.now();
    this.pads.watch();
    this.draw();
  }

  private sendCounts(): void {
    const [landed, tries] = [numberIn('landed'), numberIn('tries')];
    if (landed === undefined || tries === undefined) say('counts-said', 'Two whole numbers, please.');
    else if (landed > tries) say('counts-said', `Of ${tries} tries no more than ${tries} can land.`);
    else this.host.tell({ type: 'counts', landed, tries });
  }

  private draw(): void {
    const { data } = this;
    if (!data) return;
    const { phase, attempts, slow, next, planning } = data;
    place('practice').dataset['phase'] = phase;
    const over = phase === 'rest' || phase === 'rested';
    say('route', data.route);
    say('name', data.name);
    say('from', data.from === '' ? '' : `Start over at: ${data.from}`);
    show('from', data.from !== '' && !over);
    show('board', !over);
    say('attempts', String(attempts.length));
    say('landed-count', String(attempts.filter(({ landed }) => landed).length));
    const tape = attempts.map(({ landed }) => (landed ? 'l' : 'm')).join('');
    say('tape', tape.length > shownTape ? `…${tape.slice(-shownTape)}` : tape);
    show('tape', tape !== '' && !over);
    say('said', data.said);
    show('said', data.said !== '' || counting.has(phase));
    say('slow-text', slow?.text ?? '');
    say('correct', `Set the Cycle to ${slow?.cycle ?? 0} s`);
    show('slow', slow !== null && !over);
    // Where its time is up, the space stays: nothing moves under a hand on the mouse.
    show('length', counting.has(phase));
    place('length').classList.toggle('spent', phase !== 'block');
    show('actions', counting.has(phase));
    for (const action of practiceActions) {
      say(`do-${action}`, `${doNames[action]} (${this.bindings.keys[action].name})`);
    }
    show('counts', phase === 'count');
    show('after', over);
    const planned = next
      ? `${next.name}, ${next.minutes} min${next.from === '' ? '' : `, from: ${next.from}`}`
      : '';
    say(
      'next-text',
      planning
        ? 'Looking up the next block of today…'
        : next
          ? `Next in today's plan: ${planned}.`
          : "Today's plan has no further block.",
    );
    say('next', next ? `Start ${next.name}` : '');
    show('next', next !== null && !planning);
    say('caution', data.caution ?? '');
    show('caution', data.caution !== null);
    say('promise', data.promise);
    this.list.show();
    this.drawTime();
    this.drawFocus();
    if (phase !== this.phase) this.entered(phase);
  }

  /** Where a phase has begun, the focus goes to what it asks for, if it was in the view at all. */
  private entered(phase: PracticePhase): void {
    const before = this.phase;
    this.phase = phase;
    if (!document.hasFocus() || before === undefined) return;
    if (phase === 'count') place('landed').focus();
    else if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
  }

  private drawTime(): void {
    const { data } = this;
    this.drawUnanswered();
    if (!data) return;
    const now = Date.now() + this.ahead;
    const { phase, ends, began, restEnds, attempts } = data;
    const stopped = phase === 'count' ? ends : now;
    say('left', phase === 'count' ? 'over' : clockText(ends - now));
    const pace = paceOf(attempts, began, stopped);
    say('pace', pace.perMinute);
    say('lately', pace.lately);
    const resting = phase === 'rest' && restEnds !== null && restEnds > now;
    say(
      'rest-text',
      resting ? `Rest for ${clockText(restEnds - now)} more.` : 'The rest is over, whenever you like.',
    );
  }

  /** A press that nobody answers may not be written: whoever looks at the game would never know. */
  private drawUnanswered(): void {
    const since = performance.now() - silentAfter;
    const silent = [...this.pressed.values()].filter((start) => start < since).length;
    const [are, them] = silent === 1 ? ['press has', 'it'] : ['presses have', 'them'];
    say(
      'unanswered',
      silent === 0
        ? ''
        : `${silent} ${are} had no answer: do not count on ${them}. What is counted below is safe. If this stays, load ` +
            `the window again (Developer: Reload Window), and the block goes on.`,
    );
    show('unanswered', silent > 0);
  }

  private drawFocus(): void {
    const has = document.hasFocus();
    const matters = this.data !== undefined && counting.has(this.data.phase);
    say('focus', has || !matters ? '' : 'Keys do not reach this view now. Click here to count by key again.');
    show('focus', !has && matters);
  }
}
