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

/** Tells whether work may be done at once, or whether so much of it comes that it is better gathered. */
export class Beat {
  private readonly rest: number;
  private ended = -Infinity;
  private took = 0;

  /** @param rest milliseconds without any of the work, at least, after which the next piece is done at once */
  constructor(rest: number) {
    this.rest = rest;
  }

  /** False right after the last piece of work: for `rest`, or for as long as that piece took where that is longer. */
  get calm(): boolean {
    return performance.now() - this.ended >= Math.max(this.rest, this.took);
  }

  /** Does a piece of the work and takes its time. */
  do(run: () => void): void {
    const begun = performance.now();
    try {
      run();
    } finally {
      this.ended = performance.now();
      this.took = this.ended - begun;
    }
  }
}

/** Lets whatever waits, such as the next message from the editor, go first. */
export function breathe(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 0));
}
