import type { LogEntry } from './journalLines.ts';

/** An entry as it is written into a log: one line, `{ id: b-7f3a91c2, technique: crate-vault, minutes: 25 }`. */
export function entryToYaml(id: string, entry: LogEntry): string {
  return toFlowYaml({ id, ...entry });
}

function toFlowYaml(value: unknown): string {
  if (typeof value === 'string') return scalarToYaml(value);
  if (Array.isArray(value)) return `[${value.map(toFlowYaml).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const pairs = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return pairs.length === 0
    ? '{}'
    : `{ ${pairs.map(([key, inner]) => `${keyToYaml(key)}: ${toFlowYaml(inner)}`).join(', ')} }`;
}

/** A word as a value. Plain where every reader of YAML takes it for text, or for a time or date as runners write them; else in quotes. */
export function scalarToYaml(text: string): string {
  const plain = /^[A-Za-z0-9](?:[A-Za-z0-9 _@.:-]*[A-Za-z0-9_])?$/.test(text) && !text.includes(': ');
  const other = !Number.isNaN(Number(text)) || /^(?:true|false|null|yes|no|on|off|y|n)$/i.test(text);
  return plain && !other ? text : JSON.stringify(text);
}

/** Keys are the format's own and ids: plain, as people write them, but for words that would not be text. */
function keyToYaml(key: string): string {
  const plain = /^[a-z][a-z0-9_-]*(?:@[a-z0-9-]+)?$/.test(key) && !/^(?:true|false|null)$/.test(key);
  return plain ? key : JSON.stringify(key);
}
