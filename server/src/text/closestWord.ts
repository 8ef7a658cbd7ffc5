import { distance } from 'fastest-levenshtein';

/**
 * The candidate a person most likely meant by `word`; undefined where none is near enough.
 * Near: at most a third of the longer word's letters differ (at least one may), or two letters changed places.
 * Ties go to the first by name.
 *
 * @example
 * closestWord('tmie', ['time', 'name']) // 'time'
 * closestWord('xyz', ['time', 'name']) // undefined
 */
export function closestWord<Word extends string>(word: string, candidates: Iterable<Word>): Word | undefined {
  let best: Word | undefined;
  let fewestChanges = Infinity;
  const lowerCaseWord = word.toLowerCase();
  for (const candidate of [...candidates].sort()) {
    const length = Math.max(lowerCaseWord.length, candidate.length);
    // Each letter more or less is a change: a candidate that is much longer or shorter need not be compared.
    if (Math.abs(lowerCaseWord.length - candidate.length) > Math.max(1, Math.floor(length / 3))) continue;
    const changes = distance(lowerCaseWord, candidate.toLowerCase());
    const allowed = Math.max(
      sortedLetters(lowerCaseWord) === sortedLetters(candidate) ? 2 : 1,
      Math.floor(length / 3),
    );
    if (changes <= allowed && changes < fewestChanges && changes < length) {
      best = candidate;
      fewestChanges = changes;
    }
  }
  return best;
}

/** Letters that a word and its other forms have in common at least. */
const stemLetters = 4;

/**
 * The only candidate that begins like `word`; undefined where none does, or several.
 *
 * @example
 * sameStem('retries', ['retry', 'max_tries']) // 'retry'
 */
export function sameStem(word: string, candidates: Iterable<string>): string | undefined {
  const stem = word.slice(0, stemLetters).toLowerCase();
  if (stem.length < stemLetters) return undefined;
  const [only, ...others] = [...candidates].filter((candidate) => candidate.toLowerCase().startsWith(stem));
  return others.length === 0 ? only : undefined;
}

function sortedLetters(word: string): string {
  return [...word.toLowerCase()].sort().join('');
}
