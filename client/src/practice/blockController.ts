import { l10n, type Memento } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  correctCycleRequest,
  countedAttemptsRequest,
  practiceAttemptRequest,
  practiceEndRequest,
  practiceStartRequest,
  practiceTakeBackRequest,
  techniqueNotesRequest,
  type CountedAttemptsResult,
  type TechniqueNotes,
  type TechniqueNotesParams,
} from '../../../server/src/protocol/messages/practiceBlock.ts';
import {
  practiceOfferRequest,
  type OfferedTechnique,
  type PracticeOffer,
} from '../../../server/src/protocol/messages/practiceOffer.ts';
import type { Bindings, PracticeAction } from '../../../server/src/protocol/practice/bindings.ts';
import type { LoggedAttempt, PracticeData } from '../../../server/src/protocol/practice/blockView.ts';
import { isOpen, isPossible } from '../../../server/src/protocol/practice/phases.ts';
import {
  blockSummary,
  restMinutesAfter,
  slowPace,
  type SlowPace,
} from '../../../server/src/protocol/practice/pace.ts';
import { ensureLogFile } from './offer.ts';
import { practiceData } from './practiceData.ts';
import { getReadyMs } from './practiceEditor.ts';
import {
  newRunningBlock,
  paused,
  resumed,
  blockParams,
  advanceToTime,
  maxMinutes,
  withMinutesAdded,
  runningBlockShape,
  type RunningBlock,
} from './runningBlock.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { Timer } from '../editor/timer.ts';
import { readStored } from '../webview/storedState.ts';

/** Milliseconds between two readings of the clock. */
const pollIntervalMs = 1000;

const runningKey = 'routewright.practice';

/** The running block. Its times are kept here and in the workspace's storage; its attempts are kept by the server. */
export class BlockController {
  private readonly client: BaseLanguageClient;
  private readonly storage: Memento;
  private readonly onChanged: () => void;
  private block: RunningBlock | undefined;
  private attempts: readonly LoggedAttempt[] = [];
  private slow: SlowPace | undefined;
  private offer: PracticeOffer | undefined;
  private planning = false;
  private message = '';
  private readonly timer = new Timer();
  /** Does one action after another, in the order in which keys were pressed. */
  private queue: Promise<unknown> = Promise.resolve();

  constructor(client: BaseLanguageClient, storage: Memento, changed: () => void) {
    this.client = client;
    this.storage = storage;
    this.onChanged = changed;
    this.block = readStored(runningBlockShape, storage.get(runningKey));
  }

  get running(): RunningBlock | undefined {
    return this.block;
  }

  /** The sentence shown last. */
  get said(): string {
    return this.message;
  }

  /** Continues after a restart: asks the server which attempts count, and applies the time that has passed. */
  resume(): Promise<void> {
    return this.inTurn(async () => {
      const { block: kept } = this;
      if (!kept) return;
      if (isOpen(kept.phase)) await this.refreshAttempts();
      await this.tick();
    });
  }

  /** @param readyMs milliseconds to get ready */
  begin(offer: PracticeOffer, offered: OfferedTechnique, readyMs = getReadyMs()): Promise<void> {
    return this.inTurn(async () => {
      await ensureLogFile(offer.practice);
      const params = { uri: offer.practice.uri, technique: offered.technique };
      const [result, notes] = await Promise.all([
        this.client.sendRequest(practiceStartRequest, params),
        this.notesOf(params),
      ]);
      if (isRefusal(result)) throw new Error(result.message);
      this.attempts = [];
      this.slow = undefined;
      this.offer = undefined;
      this.message = '';
      await this.storeBlock(newRunningBlock(offer, offered, { ...result, ...notes, readyMs }));
      await this.tick();
    });
  }

  /** Starts the block that was offered after the last one. */
  async beginNext(): Promise<void> {
    const { offer } = this;
    if (offer?.next) await this.begin(offer, offer.next);
  }

  /**
   * Does what a key is for.
   *
   * @param answered called as soon as it is known whether the press was written, before anything else is shown
   */
  press(action: PracticeAction, answered: (written: boolean) => void): Promise<void> {
    return this.inTurn(() => this.pressNow(action, answered)).catch((error: unknown) => {
      answered(false);
      throw error;
    });
  }

  /** Makes the running block longer by `minutes`, or shorter where that is negative. */
  lengthen(minutes: number): Promise<void> {
    return this.inTurn(async () => {
      const { block: kept } = this;
      if (!kept) return;
      const changed = withMinutesAdded(kept, minutes, Date.now());
      if (changed === kept) {
        if (kept.phase === 'block') this.say(l10n.t('A block has at most {0} minutes.', maxMinutes));
        if (kept.phase === 'count')
          this.say(l10n.t('The time was up too long ago. Log the block, then start another one.'));
        return;
      }
      this.message = '';
      await this.storeBlock(changed);
      await this.tick();
    });
  }

  /** Lets the time of the block stand still; nothing counts until it goes on. */
  pause(): Promise<void> {
    return this.inTurn(async () => {
      if (this.block?.phase !== 'block') return;
      this.message = l10n.t('Paused: nothing counts now.');
      await this.storeBlock(paused(this.block, Date.now()));
      await this.tick();
    });
  }

  goOn(): Promise<void> {
    return this.inTurn(async () => {
      if (this.block?.phase !== 'paused') return;
      this.message = '';
      await this.storeBlock(resumed(this.block, Date.now()));
      await this.tick();
    });
  }

  /** Ends the block. Where no attempt was counted by key, the person is asked for the counts first. */
  end(): Promise<void> {
    return this.inTurn(() => this.endNow());
  }

  finish(counts: readonly [number, number] | null): Promise<void> {
    return this.inTurn(() => this.finishNow(counts, false));
  }

  leaveOut(): Promise<void> {
    return this.inTurn(() => this.finishNow(null, true));
  }

  async forget(): Promise<void> {
    this.timer.stop();
    await this.storeBlock(undefined);
  }

  /** Another program has written to a journal, perhaps attempts of the running block. */
  changed(uri: string): Promise<void> {
    return this.inTurn(async () => {
      if (!this.block || !isOpen(this.block.phase) || this.block.uri !== uri) return;
      await this.refreshAttempts();
      await this.tick();
    });
  }

  async correctCycle(): Promise<void> {
    const { block: kept, slow } = this;
    if (!kept || !slow) return;
    const params = { uri: kept.uri, technique: kept.technique, cycle: slow.cycle };
    const { message } = await this.client.sendRequest(correctCycleRequest, params);
    await this.dismissSlowPace();
    this.say(message);
  }

  async dismissSlowPace(): Promise<void> {
    this.slow = undefined;
    if (this.block) await this.storeBlock({ ...this.block, slowSaid: true });
  }

  say(text: string): void {
    this.message = text;
    this.onChanged();
  }

  data(bindings: Bindings, large: boolean): PracticeData | undefined {
    const { block, attempts, slow, offer, planning, message } = this;
    return block && practiceData({ block, attempts, slow, offer, planning, message, bindings, large });
  }

  dispose(): void {
    this.timer.stop();
  }

  /** What the route says about a technique. A block begins without, where that cannot be read. */
  private async notesOf(params: TechniqueNotesParams): Promise<TechniqueNotes> {
    try {
      return await this.client.sendRequest(techniqueNotesRequest, params);
    } catch (error) {
      this.client.error('The notes of the technique were not read.', error, false);
      return { notes: '', links: [] };
    }
  }

  private async pressNow(action: PracticeAction, answered: (written: boolean) => void): Promise<void> {
    const { block: kept } = this;
    if (!kept || !isPossible(action, kept.phase)) {
      answered(false);
      return;
    }
    if (action === 'end') {
      answered(true);
      await this.endNow();
      return;
    }
    if (action === 'back' && this.attempts.length === 0) {
      answered(false);
      this.say(l10n.t('There is no attempt to take back.'));
      return;
    }
    const params = blockParams(kept);
    const result =
      action === 'back'
        ? await this.client.sendRequest(practiceTakeBackRequest, params)
        : await this.client.sendRequest(practiceAttemptRequest, { ...params, landed: action === 'landed' });
    answered(!isRefusal(result));
    this.applyResult(result, action === 'back' ? l10n.t('Taken back.') : '');
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const next = this.queue.then(work);
    this.queue = next.catch(() => undefined);
    return next;
  }

  private applyResult(result: CountedAttemptsResult, said: string): void {
    if (isRefusal(result)) {
      this.say(result.message);
      return;
    }
    this.attempts = result.attempts;
    this.message = said;
    const { block: kept } = this;
    if (kept && !kept.slowSaid && !this.slow) {
      this.slow = slowPace(this.attempts, kept.cycle);
      // Said once only, even if the person does not react.
      if (this.slow) void this.storeBlock({ ...kept, slowSaid: true });
    }
    this.onChanged();
  }

  private async refreshAttempts(): Promise<void> {
    if (!this.block) return;
    const result = await this.client.sendRequest(countedAttemptsRequest, blockParams(this.block));
    this.applyResult(result, this.message);
  }

  private async endNow(): Promise<void> {
    const { block: kept } = this;
    if (!kept || !isPossible('end', kept.phase)) return;
    const { pausedAt, ...going } = kept;
    // What ends in a pause has ended when the pause began.
    const over: RunningBlock = { ...going, ends: Math.min(kept.ends, pausedAt ?? Date.now()) };
    if (this.attempts.length === 0) {
      this.message = '';
      await this.storeBlock({ ...over, phase: 'count' });
      return;
    }
    this.block = over;
    await this.finishNow(null, false);
  }

  private async finishNow(counts: readonly [number, number] | null, leaveOut: boolean): Promise<void> {
    const { block: kept, attempts } = this;
    if (!kept || !isOpen(kept.phase)) return;
    const params = { ...blockParams(kept), counts, leaveOut, until: kept.ends, paused: kept.pausedMs ?? 0 };
    const result = await this.client.sendRequest(practiceEndRequest, params);
    if (isRefusal(result)) {
      this.say(result.message);
      return;
    }
    const landed = attempts.filter((one) => one.landed).length;
    const [most, tries] = attempts.length > 0 ? [landed, attempts.length] : (counts ?? [0, 0]);
    const over = leaveOut ? '' : blockSummary(kept.name, result.minutes, most, tries);
    this.message = [kept.timeUp && !leaveOut ? l10n.t('Time is up.') : '', over, result.said]
      .filter((part) => part !== '')
      .join(' ');
    const restEnds = Date.now() + restMinutesAfter(kept.before, result.minutes) * 60_000;
    this.slow = undefined;
    // Known before the rest is drawn, which would else say that there is no further block.
    this.planning = true;
    await this.storeBlock({ ...kept, phase: 'rest', restEnds });
    await this.tick();
    void this.plan(kept.uri);
  }

  /** Asks for the next block of today's plan; the rest has begun meanwhile. */
  private async plan(uri: string): Promise<void> {
    this.planning = true;
    this.onChanged();
    try {
      const offer = await this.client.sendRequest(practiceOfferRequest, { uri, plan: true });
      this.offer = isRefusal(offer) ? undefined : offer;
    } catch (error) {
      this.client.error('The next block was not found.', error, false);
    }
    this.planning = false;
    this.onChanged();
  }

  /** Applies the changes of phase that only time brings, now and again when the next one is due. */
  private async tick(): Promise<void> {
    this.timer.stop();
    const { block: kept } = this;
    if (!kept) return;
    const now = Date.now();
    const { running, next } = advanceToTime(kept, this.attempts.length, now);
    if (running !== kept) await this.storeBlock(running);
    if (running.phase === 'up' && next !== null && next <= now) {
      await this.finishNow(null, false);
      return;
    }
    if (running.phase === 'paused' && next !== null && next <= now) {
      await this.endNow();
      return;
    }
    if (next === null) return;
    // After a computer slept, a timer runs late, so the clock is read often.
    const wait = Math.min(next - now, pollIntervalMs);
    this.timer.start(wait, () => void this.inTurn(() => this.tick()).catch(() => undefined));
  }

  private async storeBlock(running: RunningBlock | undefined): Promise<void> {
    this.block = running;
    this.onChanged();
    await this.storage.update(runningKey, running);
  }
}
