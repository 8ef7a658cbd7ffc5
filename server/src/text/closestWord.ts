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
export function closestWord(word: string, candidates: Iterable<string>): string | undefined {
  let best: string | undefined;
  let least = Infinity;
  const asked = word.toLowerCase();
  for (const candidate of [...candidates].sort()) {
    const length = Math.max(asked.length, candidate.length);
    const changes = distance(asked, candidate.toLowerCase());
    const allowed = Math.max(
      sortedLetters(asked) === sortedLetters(candidate) ? 2 : 1,
      Math.floor(length / 3),
    );
    if (changes <= allowed && changes < least && changes < length) {
      best = candidate;
      least = changes;
    }
  }
  return best;
}

function sortedLetters(word: string): string {
  return [...word.toLowerCase()].sort().join('');
}
