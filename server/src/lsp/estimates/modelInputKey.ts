import type { RankInput } from '../../model/index.ts';

const keys = new WeakMap<RankInput, string>();

/** A model input as text. Equal texts have equal answers, so an answer is kept as long as the text stays the same. */
export function modelInputKey(input: RankInput): string {
  const cached = keys.get(input);
  if (cached !== undefined) return cached;
  const { route, logs, asOfDay, options, constants } = input;
  const key = JSON.stringify([route, logs, asOfDay, options, constants]);
  keys.set(input, key);
  return key;
}
