import type { Reading } from '../reading/reading.ts';
import { locate, type Path } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';
import { canonicalText } from './canonicalText.ts';
import { toFlowYaml } from './flowYaml.ts';

/**
 * Whether what stands at a path is a value as it was written there, or the same in another layout: nobody has changed
 * it, added to it or put a comment to it.
 *
 * @param written the values that may have been written
 */
export function isUntouched({ text, tree }: Reading, path: Path, written: readonly unknown[]): boolean {
  const { exact, tree: standing, value } = locate(tree, path);
  if (!exact || !standing) return false;
  const last = text.slice(0, value.end).trimEnd().length;
  const end = text.indexOf('\n', last);
  const lines = text.slice(value.start, end < 0 ? text.length : end).trim();
  if (written.some((one) => toFlowYaml(one) === lines)) return true;
  if (lines.includes('#')) return false;
  const says = withoutTypes(toValue(standing));
  return written.some((one) => withoutTypes(one) === says);
}

/** Equal also where a number stands in quotes in one and without in the other. */
function withoutTypes(value: unknown): string {
  return canonicalText(value, (scalar) => JSON.stringify(String(scalar)));
}
