/**
 * Work that is done after a delay. A new start replaces the one before, so that of many starts in a row only the last
 * has an effect.
 */
export class Timer {
  private handle: ReturnType<typeof setTimeout> | undefined;

  /** Does the work after `delayMs` milliseconds, unless the timer is started again or stopped before. */
  start(delayMs: number, work: () => void): void {
    this.stop();
    this.handle = setTimeout(() => {
      this.handle = undefined;
      work();
    }, delayMs);
  }

  /** Does the work every `intervalMs` milliseconds, the first time after one interval. */
  repeat(intervalMs: number, work: () => void): void {
    this.start(intervalMs, () => {
      this.repeat(intervalMs, work);
      work();
    });
  }

  stop(): void {
    clearTimeout(this.handle);
    this.handle = undefined;
  }

  /** The same as {@link stop}, so that a timer can be registered as a disposable. */
  dispose(): void {
    this.stop();
  }
}
