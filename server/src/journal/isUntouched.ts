import type { Reading } from '../files/reading/reading.ts';
import { locate, type Path, type Tree } from '../files/yaml/tree.ts';
import { toValue } from '../files/yaml/value.ts';
import { entryToYaml } from './entryYaml.ts';
import type { LogEntry } from './journalLines.ts';

/**
 * Whether an entry stands in a text as it was written there, or in another layout: nobody has changed it, added to it
 * or put a comment to it.
 *
 * @param entries what may have been written
 */
export function isUntouched(
  { text, tree }: Reading,
  path: Path,
  id: string,
  entries: readonly LogEntry[],
): boolean {
  const { exact, tree: standing, value } = locate(tree, path);
  if (!exact || !standing) return false;
  const written = text.slice(0, value.end).trimEnd().length;
  const end = text.indexOf('\n', written);
  const line = text.slice(value.start, end < 0 ? text.length : end).trim();
  if (entries.some((entry) => entryToYaml(id, entry) === line)) return true;
  return !line.includes('#') && entries.some((entry) => sameContent({ id, ...entry }, standing));
}

function sameContent(entry: LogEntry, standing: Tree): boolean {
  return canonicalText(entry) === canonicalText(toValue(standing));
}

/** A value as text, whatever the order of its keys and whether a number stands in quotes. */
function canonicalText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalText).join()}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(String(value));
  const pairs = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return `{${pairs
    .map(([key, inner]) => `${JSON.stringify(key)}:${canonicalText(inner)}`)
    .sort()
    .join()}}`;
}
