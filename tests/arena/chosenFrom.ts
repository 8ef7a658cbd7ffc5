/** Names from an option of a command, with commas between; throws on one that is not known. */
export function chosenFrom(list: string, known: Readonly<Record<string, unknown>>): string[] {
  const names = list.split(',');
  const unknown = names.find((name) => !Object.hasOwn(known, name));
  if (unknown !== undefined) throw new Error(`${unknown} is none of ${Object.keys(known).join(', ')}`);
  return names;
}
