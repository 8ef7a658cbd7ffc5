import type { Steps } from '../../incremental/steps.ts';

/** Runs something once, a fixed time after the last call of `restart`. For work that no person is waiting for. */
export class Debouncer {
  private readonly milliseconds: number;
  private readonly run: () => void;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(milliseconds: number, run: () => void) {
    this.milliseconds = milliseconds;
    this.run = run;
  }

  get waiting(): boolean {
    return this.timer !== undefined;
  }

  /** Starts the waiting time, or starts it again. */
  restart(): void {
    this.cancel();
    this.timer = setTimeout(() => {
      this.timer = undefined;
      this.run();
    }, this.milliseconds);
  }

  cancel(): void {
    if (this.timer !== undefined) clearTimeout(this.timer);
    this.timer = undefined;
  }
}

/**
 * Runs something as soon as no more messages are arriving: after one edit at once, and after several edits that have
 * arrived together only once, after the last of them. The event loop delivers one message a turn, so a turn without a
 * message means that all have been delivered.
 */
export class Coalescer {
  private turns = 0;
  private counting = false;
  private readonly run: () => void;

  constructor(run: () => void) {
    this.run = run;
  }

  get waiting(): boolean {
    return this.turns > 0;
  }

  /** Starts the waiting time, or starts it again. */
  restart(): void {
    // The rest of this turn, and one turn in which the next message would arrive.
    this.turns = 2;
    if (!this.counting) this.count();
  }

  cancel(): void {
    this.turns = 0;
  }

  private count(): void {
    this.counting = true;
    nextTurn(() => {
      this.counting = false;
      if (this.turns === 0) return;
      this.turns--;
      if (this.turns === 0) this.run();
      else this.count();
    });
  }
}

/** Browsers have no shorter wait than a timeout of 0. Messages arrive during such a wait as well. */
const nextTurn: (run: () => void) => void =
  typeof setImmediate === 'function' ? (run) => void setImmediate(run) : (run) => void setTimeout(run, 0);

/**
 * Lets everything that is waiting, such as the next message from the editor, run first. In Node this must not be a
 * timeout: timeouts that are due follow one another without a look at what has arrived, so two computations that take
 * turns would keep every message waiting until one of them ends.
 */
export function yieldToEventLoop(): Promise<void> {
  // One turn in which a message arrives, and one in which it is handled.
  return new Promise((resolve) =>
    nextTurn(typeof setImmediate === 'function' ? () => nextTurn(resolve) : resolve),
  );
}

/** Milliseconds of work after which messages that have arrived are handled first. */
const maxTurnMs = 12;

/** Says whether a result is no longer wanted. A request's cancellation token is one. */
export interface StopSignal {
  readonly isCancellationRequested: boolean;
}

/** A signal that asks each time it is read. */
export function stopWhen(isUnwanted: () => boolean): StopSignal {
  return {
    get isCancellationRequested() {
      return isUnwanted();
    },
  };
}

/** Work was stopped, since its result is no longer wanted. */
export class WorkStopped extends Error {
  constructor() {
    super('The work was stopped.');
  }
}

/**
 * Runs a computation in turns of a few milliseconds. Before each turn, messages that have arrived are handled: one of
 * them may make the result unwanted.
 *
 * @throws {WorkStopped} where `signal` says that the result is no longer wanted
 */
export async function runInTurns<T>(steps: Steps<T>, signal: StopSignal): Promise<T> {
  for (;;) {
    await yieldToEventLoop();
    if (signal.isCancellationRequested) throw new WorkStopped();
    const end = Date.now() + maxTurnMs;
    do {
      const { done, value } = steps.next();
      if (done === true) return value;
    } while (Date.now() < end);
  }
}
