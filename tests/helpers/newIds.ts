/** The same data with other ids, or in another order: for tests that neither changes a result. */

/** A copy in which every text and key that is an id, or an id before an `@`, has the new id. */
export function withNewIds(value: unknown, nameOf: (id: string) => string | undefined): unknown {
  const named = (text: string): string => {
    const [id = '', ...rest] = text.split('@');
    return [nameOf(id) ?? id, ...rest].join('@');
  };
  if (typeof value === 'string') return named(value);
  if (Array.isArray(value)) return value.map((inner) => withNewIds(inner, nameOf));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [named(key), withNewIds(inner, nameOf)]),
  );
}

/** A copy in random order (Fisher and Yates). */
export function shuffled<T>(list: readonly T[], random: () => number): T[] {
  const out = [...list];
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return out;
}
