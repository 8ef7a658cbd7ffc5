import type { NameSet } from './nameSet.ts';

/** Names, each as often as it occurs. */
export class NameCounts implements NameSet {
  private readonly counts = new Map<string, number>();
  private doubles = 0;
  private changes = 0;

  add(name: string): void {
    const count = (this.counts.get(name) ?? 0) + 1;
    this.counts.set(name, count);
    if (count === 1) this.changes++;
    if (count === 2) this.doubles++;
  }

  /** Takes out one occurrence of a name that was added before. */
  remove(name: string): void {
    const count = this.counts.get(name)! - 1;
    if (count > 0) this.counts.set(name, count);
    else if (this.counts.delete(name)) this.changes++;
    if (count === 1) this.doubles--;
  }

  /** Whether any name occurs more than once. */
  get hasDuplicates(): boolean {
    return this.doubles > 0;
  }

  get revision(): readonly unknown[] {
    return [this, this.changes];
  }

  get confirmed(): this {
    return this;
  }

  get size(): number {
    return this.counts.size;
  }

  has(name: string): boolean {
    return this.counts.has(name);
  }

  [Symbol.iterator](): IterableIterator<string> {
    return this.counts.keys();
  }
}
