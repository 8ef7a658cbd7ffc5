import type { Entry } from './tree.ts';

/** Where the keys of a long map stand, looked up once for all trees that have the same keys in the same order. */
export class KeyIndex {
  private positions: ReadonlyMap<string, number> | undefined;

  /** The entry of a key; the first where it stands twice. */
  find(entries: readonly Entry[], key: string): Entry | undefined {
    this.positions ??= new Map(entries.map((entry, at) => [String(entry.key.value), at] as const).reverse());
    const at = this.positions.get(key);
    return at === undefined ? undefined : entries[at];
  }
}
