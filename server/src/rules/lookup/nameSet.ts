/** A set of names: iterating gives each name once. */
export interface NameSet extends Iterable<string> {
  readonly size: number;
  has(name: string): boolean;
  /** Values that stay the same as long as no name is added or removed. */
  readonly revision: readonly unknown[];
  /** The names that were read and so are certain. */
  readonly confirmed: NameSet;
}

/** All the names of several. */
export class UnionNameSet implements NameSet {
  private readonly some: readonly NameSet[];

  constructor(some: readonly NameSet[]) {
    this.some = some;
  }

  /** An upper limit: a name in two of the sets counts twice. */
  get size(): number {
    return this.some.reduce((sum, { size }) => sum + size, 0);
  }

  get revision(): readonly unknown[] {
    return this.some.flatMap(({ revision }) => revision);
  }

  get confirmed(): NameSet {
    return new UnionNameSet(this.some.map(({ confirmed }) => confirmed));
  }

  has(name: string): boolean {
    return this.some.some((names) => names.has(name));
  }

  [Symbol.iterator](): IterableIterator<string> {
    return new Set(this.some.flatMap((names) => [...names])).values();
  }
}

/**
 * Names of a text that was not read to its end: any word of it may turn out to be one. `has` is true for those words,
 * too, but iterating gives only the names that were read.
 */
export class TentativeNameSet implements NameSet {
  readonly confirmed: NameSet;
  private readonly text: string;
  private readonly mayStand: RegExp;
  private words: ReadonlySet<string> | undefined;

  /** @param mayStand finds every word of the text that may be a name, as its first group */
  constructor(read: NameSet, text: string, mayStand: RegExp) {
    this.confirmed = read;
    this.text = text;
    this.mayStand = mayStand;
  }

  get size(): number {
    return this.confirmed.size;
  }

  get revision(): readonly unknown[] {
    return [...this.confirmed.revision, this.text];
  }

  has(name: string): boolean {
    return this.confirmed.has(name) || this.written(name);
  }

  [Symbol.iterator](): Iterator<string> {
    return this.confirmed[Symbol.iterator]();
  }

  private written(name: string): boolean {
    this.words ??= new Set(Array.from(this.text.matchAll(this.mayStand), ([, word]) => word!));
    return this.words.has(name);
  }
}
