import { closestWord } from '../../text/closestWord.ts';
import { entryOf, locate, type Tree } from '../../files/yaml/tree.ts';
import type { Fix, SourceRef } from './sourceRef.ts';

/** How many pairs of names one check may compare; beyond that it suggests no more names. */
const maxComparisons = 40_000;
/** How many unknown names get a suggestion in any case. */
const minWords = 10;

type Known = Iterable<string> & { readonly size: number };

/** Finds what was meant by unknown names. Keeps its answers, since the same mistake is often written many times. */
export class NameSuggester {
  private readonly mostWords: number;
  private readonly names: Known;
  private sorted: readonly string[] | undefined;
  private readonly answers = new Map<string, string | undefined>();

  constructor(names: Known) {
    this.names = names;
    this.mostWords = Math.max(minWords, Math.floor(maxComparisons / (names.size + 1)));
  }

  /** Sorted only when a word is unknown, which is seldom. */
  private get known(): readonly string[] {
    return (this.sorted ??= [...this.names].sort());
  }

  /** The known name nearest to `word`, other than itself; undefined where none is near. */
  suggest(word: string): string | undefined {
    if (!this.answers.has(word) && this.answers.size < this.mostWords) {
      const others = this.known.filter((name) => name !== word);
      this.answers.set(word, closestWord(word, others));
    }
    return this.answers.get(word);
  }
}

/**
 * The edit that puts `text` in place of what is written; none where that would write a key a second time.
 *
 * @param tree the tree of the place's file; not needed for a value
 */
export function replacementFix(place: SourceRef, text: string, tree?: Tree): { fix?: Fix } {
  const { uri, path, part } = place;
  if (part === 'key' && entryOf(locate(tree, path.slice(0, -1)).tree, text)) return {};
  return { fix: { uri, path, part, title: `Change to \`${text}\``, text } };
}
