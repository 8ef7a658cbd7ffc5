/**
 * How many invented projects a property test looks at: as many as ROUTEWRIGHT_PROJECTS says, else `usual`.
 *
 * @returns the number, and a time limit that ends only what hangs, in ms
 */
export function projectCount(usual: number): { readonly count: number; readonly limit: number } {
  const asked = Number(process.env['ROUTEWRIGHT_PROJECTS'] ?? usual);
  if (!Number.isInteger(asked) || asked < 1) throw new Error('ROUTEWRIGHT_PROJECTS must be a whole number.');
  const count = Math.max(usual, asked);
  return { count, limit: Math.max(240_000, 10_000 * count) };
}
