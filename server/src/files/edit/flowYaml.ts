/** A value as YAML on one line: `{ id: b-7f3a91c2, technique: crate-vault, landed: [12, 20] }`. */
export function toFlowYaml(value: unknown): string {
  if (typeof value === 'string') return scalarToYaml(value);
  if (Array.isArray(value)) return `[${value.map(toFlowYaml).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const pairs = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return pairs.length === 0 ? '{}' : `{ ${pairs.map(([key, inner]) => entryToYaml(key, inner)).join(', ')} }`;
}

/**
 * A key with its value on one line, without braces around it.
 *
 * @example
 * entryToYaml('landed', [12, 20]) // 'landed: [12, 20]'
 */
export function entryToYaml(key: string, value: unknown): string {
  return `${keyToYaml(key)}: ${toFlowYaml(value)}`;
}

/**
 * A text as a YAML value. Plain where every reader of YAML takes it for text, or for a time or date as runners write
 * them; else in quotes.
 */
export function scalarToYaml(text: string): string {
  const plain = /^[A-Za-z0-9](?:[A-Za-z0-9 _@.:-]*[A-Za-z0-9_])?$/.test(text) && !text.includes(': ');
  const other = !Number.isNaN(Number(text)) || /^(?:true|false|null|yes|no|on|off|y|n)$/i.test(text);
  return plain && !other ? text : JSON.stringify(text);
}

/**
 * A key. The format's own keys and ids stay plain, as people write them; words that some YAML readers do not read as
 * text are quoted, except `on`, which is a key of the format.
 */
export function keyToYaml(key: string): string {
  const plain = /^[a-z][a-z0-9_-]*(?:@[a-z0-9-]+)?$/.test(key);
  const other = /^(?:true|false|null|yes|no|off|y|n)$/.test(key);
  return plain && !other ? key : JSON.stringify(key);
}
