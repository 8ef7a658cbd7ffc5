import {
  defaultBindings,
  practiceActions,
  type Bindings,
  type PracticeAction,
} from '../../server/src/protocol/practice/bindings.ts';
import type { PracticeData } from '../../server/src/protocol/practice/blockView.ts';
import {
  isCounting,
  canBeLonger,
  canBeShorter,
  isPossible,
  isUnderWay,
  type PracticePhase,
} from '../../server/src/protocol/practice/phases.ts';
import { clockText, paceOf } from '../../server/src/protocol/practice/pace.ts';
import { plainButtons, type PracticeEditorMessage } from '../../server/src/protocol/practice/pageMessages.ts';
import { BindingList } from './bindingList.ts';
import type { Host } from './host.ts';
import { KeyboardInput } from './keyboardInput.ts';
import { drawTechnique } from './aboutTechnique.ts';
import { drawLastAttempts } from './lastAttempts.ts';
import { EndSound } from './endSound.ts';
import { GamepadInput } from './gamepadInput.ts';
import { drawRest, drawRestClock } from './restView.ts';
import { numberIn, onClick, elementById, setText, setShown } from './elements.ts';

/** Milliseconds between two readings of the clock. */
const refreshIntervalMs = 250;
/** Milliseconds after which the view reports a press without an answer: even a busy machine answers sooner. */
const unansweredAfterMs = 3000;

const buttonLabels: Readonly<Record<PracticeAction, string>> = {
  landed: 'Landed',
  missed: 'Missed',
  back: 'Take Back',
  end: 'End Block',
};

/** The practice view: shows the block that the editor keeps, and sends the editor the actions of keys. */
export class PracticeView {
  private readonly host: Host;
  private readonly keys: KeyboardInput;
  private readonly pads: GamepadInput;
  private readonly list: BindingList;
  private readonly sound = new EndSound(() => this.data?.sound === true);
  private data: PracticeData | undefined;
  private bindings: Bindings = defaultBindings;
  /** By how many ms the editor's clock is ahead of the page's: they may be on two machines. */
  private clockLeadMs = 0;
  private presses = 0;
  private readonly pressed = new Map<number, number>();
  private phase: PracticePhase | undefined;

  constructor(host: Host) {
    this.host = host;
    const bindings = (): Bindings => this.bindings;
    const act = (action: PracticeAction): void => this.act(action);
    this.keys = new KeyboardInput({ bindings, act, chosen: (key) => this.list.keyChosen(key) });
    this.pads = new GamepadInput({ bindings, act, chosen: (button) => this.list.buttonChosen(button) });
    this.list = new BindingList({
      bindings,
      bind: (changed) => {
        this.bindings = changed;
        this.host.send({ type: 'bind', bindings: changed });
        this.pads.watch();
        this.draw();
      },
      askKey: (asks) => (asks ? this.keys.ask() : this.keys.stopAsking()),
      askButton: (asks) => (asks ? this.pads.ask() : this.pads.stopAsking()),
    });
  }

  start(): void {
    this.host.listen((message) => this.handleMessage(message));
    for (const action of practiceActions) onClick(`do-${action}`, () => this.act(action));
    for (const type of plainButtons) onClick(type, () => this.host.send({ type }));
    onClick('pause', () => this.host.send({ type: this.data?.phase === 'paused' ? 'resume' : 'pause' }));
    onClick('large', () => this.host.send({ type: 'large', large: this.data?.large !== true }));
    elementById('counts').addEventListener('submit', (event) => {
      event.preventDefault();
      this.sendCounts();
    });
    window.addEventListener('focus', () => this.drawFocus());
    window.addEventListener('blur', () => this.drawFocus());
    window.addEventListener('resize', () => drawLastAttempts(this.data?.attempts ?? []));
    setInterval(() => this.drawTime(), refreshIntervalMs);
    this.list.show();
    this.drawFocus();
    this.host.send({ type: 'ready' });
  }

  private act(action: PracticeAction): void {
    const { data } = this;
    if (!data || !isPossible(action, data.phase)) return;
    this.presses += 1;
    this.pressed.set(this.presses, performance.now());
    this.host.send({ type: 'press', press: this.presses, action });
  }

  private handleMessage(message: PracticeEditorMessage): void {
    if (message.type === 'answered') {
      const start = this.pressed.get(message.press);
      this.pressed.delete(message.press);
      // For the speed measurements: how long a press takes to be written, or to be refused.
      if (start !== undefined) performance.measure(message.written ? 'attempt' : 'refused', { start });
      return;
    }
    // What was up before the page was loaded sounds no more.
    if (message.data.sound && message.data.timeUp && this.data?.timeUp === false) this.sound.play();
    this.data = message.data;
    this.bindings = message.data.bindings;
    this.clockLeadMs = message.data.now - Date.now();
    this.pads.watch();
    this.draw();
  }

  private sendCounts(): void {
    const [landed, tries] = [numberIn('landed'), numberIn('tries')];
    if (landed === undefined || tries === undefined) setText('counts-said', 'Two whole numbers, please.');
    else if (landed > tries) setText('counts-said', `Of ${tries} tries no more than ${tries} can land.`);
    else this.host.send({ type: 'counts', landed, tries });
  }

  private draw(): void {
    const { data } = this;
    if (!data) return;
    const { phase, attempts, slow } = data;
    elementById('practice').dataset['phase'] = phase;
    elementById('practice').classList.toggle('in-large', data.large);
    elementById('large').setAttribute('aria-pressed', String(data.large));
    const over = phase === 'rest' || phase === 'rested';
    const underWay = isUnderWay(phase);
    setText('route', data.route);
    setText('name', data.name);
    setText('from', data.from === '' ? '' : `Start over at: ${data.from}`);
    setShown('from', data.from !== '');
    elementById('from').classList.toggle('spent', over);
    setText('said', data.said);
    setShown('board', !over);
    setText('attempts', String(attempts.length));
    setText('landed-count', String(attempts.filter(({ landed }) => landed).length));
    setText('usual', data.usual);
    elementById('usual-field').classList.toggle('spent', data.usual === '');
    setShown('last', underWay);
    drawLastAttempts(attempts);
    setText('slow-text', slow?.text ?? '');
    setText('correct', `Set the Cycle to ${slow?.cycle ?? 0} s`);
    setShown('slow', slow !== null && !over);
    // What cannot be done now leaves its space, so that no button moves while a person is about to click.
    setShown('length', !over);
    elementById('less').classList.toggle('spent', !canBeShorter(phase));
    elementById('more').classList.toggle('spent', !canBeLonger(phase, data.timeUp));
    elementById('pause').classList.toggle('spent', phase !== 'block' && phase !== 'paused');
    setText('pause', phase === 'paused' ? 'Go On' : 'Pause');
    setShown('actions', underWay);
    for (const action of practiceActions) {
      setText(`do-${action}`, `${buttonLabels[action]} (${this.bindings.keys[action].name})`);
      elementById(`do-${action}`).toggleAttribute('disabled', !isPossible(action, phase));
    }
    setShown('counts', phase === 'count');
    setShown('after', over);
    drawRest(data);
    // Below a block only: at the rest, other things are in this place.
    setText('caution', data.caution ?? '');
    setShown('caution', data.caution !== null && underWay);
    drawTechnique(data, underWay);
    setText('promise', data.promise);
    setShown('promise', underWay);
    setShown('binding', phase !== 'count');
    // The keys are at the end of what is shown: of the block, or of the rest.
    const keysPlace = elementById(over ? 'after' : 'below');
    if (elementById('binding').parentElement !== keysPlace) keysPlace.append(elementById('binding'));
    this.list.show();
    this.drawTime();
    this.drawFocus();
    if (phase !== this.phase) this.beginPhase(phase);
  }

  /**
   * At the start of a phase, moves the focus to the element that the phase needs, if the focus was in the view. Where the
   * page is another one now, it is shown from its name on; a pause and the end of the time leave it where it is.
   */
  private beginPhase(phase: PracticePhase): void {
    const before = this.phase;
    this.phase = phase;
    if (before === undefined) return;
    if (stageOf(phase) !== stageOf(before)) window.scrollTo(0, 0);
    if (!document.hasFocus()) return;
    if (phase === 'count') elementById('landed').focus();
    else if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
  }

  private drawTime(): void {
    const { data } = this;
    this.drawUnanswered();
    if (!data) return;
    const now = Date.now() + this.clockLeadMs;
    const { phase, ends, began, restEnds, attempts } = data;
    const stopped = phase === 'count' ? ends : (data.pausedAt ?? now);
    setText('left-title', phase === 'ready' ? 'Get ready' : phase === 'paused' ? 'Paused' : 'Time left');
    setText(
      'left',
      phase === 'count' ? 'over' : phase === 'ready' ? clockText(began - now) : clockText(ends - stopped),
    );
    const pace = paceOf(attempts, began, stopped);
    setText('pace', pace.perMinute);
    setText('lately', pace.lately);
    drawRestClock(phase === 'rest' && restEnds !== null ? restEnds - now : 0);
  }

  /** Shows that a press has no answer: it may not be written, and a person who looks at the game would not notice. */
  private drawUnanswered(): void {
    const since = performance.now() - unansweredAfterMs;
    const silent = [...this.pressed.values()].filter((start) => start < since).length;
    const [are, them] = silent === 1 ? ['press has', 'it'] : ['presses have', 'them'];
    setText(
      'unanswered',
      silent === 0
        ? ''
        : `${silent} ${are} had no answer: do not count on ${them}. What the page counts is safe. If this stays, load ` +
            `the window again (Developer: Reload Window), and the block goes on.`,
    );
    setShown('unanswered', silent > 0);
  }

  private drawFocus(): void {
    const has = document.hasFocus();
    const matters = this.data !== undefined && isCounting(this.data.phase);
    setText(
      'focus',
      has || !matters ? '' : 'Keys do not reach this view now. Click here to count by key again.',
    );
    setShown('focus', !has && matters);
  }
}

/** What the page shows in a phase: a block under way, the question for its counts, or the rest. */
function stageOf(phase: PracticePhase): 'block' | 'count' | 'rest' {
  if (isUnderWay(phase)) return 'block';
  return phase === 'count' ? 'count' : 'rest';
}
