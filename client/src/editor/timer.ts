/**
 * One piece of work that is due later: a new appointment takes the place of the one before, so that of many in a row
 * only the last is kept.
 */
export class Timer {
  private handle: ReturnType<typeof setTimeout> | undefined;

  /** Does the work after so many milliseconds, unless another appointment is made or this is stopped before. */
  start(delayMs: number, work: () => void): void {
    this.stop();
    this.handle = setTimeout(() => {
      this.handle = undefined;
      work();
    }, delayMs);
  }

  /** Does the work every so many milliseconds, the first time after the first interval. */
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

  /** The same as {@link stop}: so that what is disposed of with the extension can hold a timer. */
  dispose(): void {
    this.stop();
  }
}
