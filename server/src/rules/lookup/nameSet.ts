/** Names, each told once. */
export interface Names extends Iterable<string> {
  readonly size: number;
  has(name: string): boolean;
  /** What is the same as long as no name comes or goes. */
  readonly stamp: readonly unknown[];
  /** Those of them that were read, and so are sure. */
  readonly sure: Names;
}

/** All the names of several. */
export class AnyOf implements Names {
  private readonly some: readonly Names[];

  constructor(some: readonly Names[]) {
    this.some = some;
  }

  /** At most; a name of two is counted twice. */
  get size(): number {
    return this.some.reduce((sum, { size }) => sum + size, 0);
  }

  get stamp(): readonly unknown[] {
    return this.some.flatMap(({ stamp }) => stamp);
  }

  get sure(): Names {
    return new AnyOf(this.some.map(({ sure }) => sure));
  }

  has(name: string): boolean {
    return this.some.some((names) => names.has(name));
  }

  [Symbol.iterator](): IterableIterator<string> {
    return new Set(this.some.flatMap((names) => [...names])).values();
  }
}

/**
 * Names of a text that was not read to its end: any word of it may turn out to be one. It has those words, too, but
 * tells only of names that were read.
 */
export class MaybeMore implements Names {
  readonly sure: Names;
  private readonly text: string;
  private readonly mayStand: (before: string) => boolean;

  /** @param mayStand whether a word may be a name, given what stands before it on its line */
  constructor(read: Names, text: string, mayStand: (before: string) => boolean) {
    this.sure = read;
    this.text = text;
    this.mayStand = mayStand;
  }

  get size(): number {
    return this.sure.size;
  }

  get stamp(): readonly unknown[] {
    return [...this.sure.stamp, this.text];
  }

  has(name: string): boolean {
    return this.sure.has(name) || this.written(name);
  }

  [Symbol.iterator](): Iterator<string> {
    return this.sure[Symbol.iterator]();
  }

  private written(name: string): boolean {
    const { text } = this;
    for (let at = text.indexOf(name); name !== '' && at >= 0; at = text.indexOf(name, at + 1)) {
      const before = text.slice(text.lastIndexOf('\n', at - 1) + 1, at);
      const whole = !/[a-z0-9-]$/.test(before) && !/^[a-z0-9-]/.test(text[at + name.length] ?? '');
      if (whole && this.mayStand(before)) return true;
    }
    return false;
  }
}
