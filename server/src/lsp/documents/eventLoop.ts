/** Runs something once, some time after the last call; what is put off is what a person is not waiting for. */
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

  /** Begins the wait, or begins it anew. */
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
 * Runs something as soon as nothing more of what calls for it is on its way: one edit is checked at once, and a burst of
 * edits that has arrived already once at its end. Messages are heard one a turn of the event loop, so that a turn
 * without another is the end of what has arrived.
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

  /** Begins the wait, or begins it anew. */
  restart(): void {
    // This turn's own, and one in which the next message would be heard.
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

/** Browsers have no shorter wait than this; there messages are heard in such waits, too. */
const nextTurn: (run: () => void) => void =
  typeof setImmediate === 'function' ? (run) => void setImmediate(run) : (run) => void setTimeout(run, 0);

/** Lets whatever waits, such as the next message from the editor, go first. */
export function yieldToEventLoop(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 0));
}
