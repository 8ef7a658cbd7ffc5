/** Words with a form of their own, as headings and cells of a table have them. */

/**
 * A key of the user's own, in small letters; undefined for any other heading.
 *
 * @example
 * ownKey('X-Mood') // 'x-mood'
 */
export function ownKey(heading: string): `x-${string}` | undefined {
  return /^x-[^\s:]{1,60}$/i.test(heading) ? (heading.toLowerCase() as `x-${string}`) : undefined;
}

/** Whether a text may be the id of a block or a run. */
export function isEntryId(text: string): boolean {
  return /^[A-Za-z0-9-]{1,60}$/.test(text);
}
