/** What package.json says about a setting. */
export interface SettingShape {
  readonly type?: string;
  readonly default?: unknown;
  readonly enum?: readonly unknown[];
  readonly pattern?: string;
  readonly propertyNames?: { readonly enum?: readonly unknown[] };
  readonly additionalProperties?: unknown;
}

/**
 * The settings that differ from their defaults, a line each. A value is shown only where package.json lists every
 * possible value; otherwise the line says only that the setting is set.
 *
 * @param valueOf gives a setting's value as the person wrote it; undefined where they wrote none
 */
export function differingSettings(
  shapes: Readonly<Record<string, SettingShape>>,
  valueOf: (name: string) => unknown,
): string[] {
  return Object.entries(shapes).flatMap(([name, shape]) => {
    const value = valueOf(name);
    if (value === undefined || JSON.stringify(value) === JSON.stringify(shape.default)) return [];
    return [`${name}: ${shown(shape, value)}`];
  });
}

function shown(shape: SettingShape, value: unknown): string {
  if (typeof value === 'boolean' || typeof value === 'number') return String(value);
  if (typeof value === 'string') {
    const known = shape.enum?.includes(value) === true;
    const fits = shape.pattern !== undefined && new RegExp(shape.pattern).test(value);
    return known || fits ? value : 'set';
  }
  const names = shape.propertyNames?.enum;
  const values = (shape.additionalProperties as SettingShape | undefined)?.enum;
  if (typeof value !== 'object' || value === null || !names || !values) return 'set';
  const entries = Object.entries(value).map(([key, each]) =>
    names.includes(key) && values.includes(each) ? `${key}=${String(each)}` : 'an unknown entry',
  );
  return entries.join(', ') || 'set, and empty';
}

/** How many there are of each sort, most first: "3 route, 1 week". */
export function countedBy<T>(items: readonly T[], sortOf: (item: T) => string): string {
  const counts = new Map<string, number>();
  for (const item of items) counts.set(sortOf(item), (counts.get(sortOf(item)) ?? 0) + 1);
  const sorted = [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1));
  return sorted.map(([sort, count]) => `${count} ${sort}`).join(', ') || 'none';
}
