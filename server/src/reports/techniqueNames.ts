/**
 * A sentence of the model for people: each id of a technique, which the model writes in backquotes, becomes its name.
 *
 * @example
 * nameTechniques('It waits for `crate-vault`.', new Map([['crate-vault', 'Crate vault']])) // 'It waits for Crate vault.'
 */
export function nameTechniques(text: string, names: ReadonlyMap<string, string>): string {
  return text.replace(/`([^`]+)`/g, (_, id: string) => names.get(id) ?? id);
}
