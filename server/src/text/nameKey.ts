/**
 * A name or an id as it is compared: without capitals, and with one space for spaces, hyphens and underscores.
 *
 * @example
 * nameKey('Pendulum  Skip') === nameKey('pendulum-skip') // true
 */
export function nameKey(written: string): string {
  return written
    .toLowerCase()
    .split(/[\s_-]/)
    .filter((word) => word !== '')
    .join(' ');
}
