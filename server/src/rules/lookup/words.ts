/** Ids in a sentence: `a`, `b` and `c`; of many the first few and how many more. */
export function listIds(ids: readonly string[], most = 5): string {
  const shown = ids.slice(0, most).map((id) => `\`${id}\``);
  if (ids.length > most) return `${shown.join(', ')} and ${ids.length - most} more`;
  return shown.length < 2 ? shown.join('') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}

/** At most one decimal, none where it is whole. */
export function formatRounded(value: number): string {
  return String(Number(value.toFixed(1)));
}
