/**
 * A value as text: equal for equal values, with their keys in any order.
 *
 * @param scalar writes what is neither a map nor a list; left out: as JSON
 */
export function canonicalText(value: unknown, scalar: (value: unknown) => string = asJson): string {
  if (Array.isArray(value)) return `[${value.map((item) => canonicalText(item, scalar)).join()}]`;
  if (typeof value !== 'object' || value === null) return scalar(value);
  const pairs = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return `{${pairs
    .map(([key, inner]) => `${JSON.stringify(key)}:${canonicalText(inner, scalar)}`)
    .sort()
    .join()}}`;
}

function asJson(value: unknown): string {
  // JSON writes numbers that are none as null, which is another value.
  if (typeof value === 'number' && !Number.isFinite(value)) return String(value);
  return JSON.stringify(value) ?? 'null';
}
