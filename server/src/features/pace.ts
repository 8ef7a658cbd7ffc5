/** Runs something once, some time after the last call; what is put off is what a person is not waiting for. */
export class Pause {
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

/** Lets whatever waits, such as the next message from the editor, go first. */
export function breathe(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 0));
}
