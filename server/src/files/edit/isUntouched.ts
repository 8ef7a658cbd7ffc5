import type { Reading } from '../reading/reading.ts';
import { locate, type Path } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';
import { canonicalText } from './canonicalText.ts';
import { toFlowYaml } from './flowYaml.ts';

/**
 * Whether a value that the program wrote at a path is unchanged, at most in another layout: nobody has edited it, added
 * to it or put a comment on it.
 *
 * @param written the values that may have been written
 */
export function isUntouched({ text, tree }: Reading, path: Path, written: readonly unknown[]): boolean {
  const { exact, tree: node, value } = locate(tree, path);
  if (!exact || !node) return false;
  const last = text.slice(0, value.end).trimEnd().length;
  const end = text.indexOf('\n', last);
  const lines = text.slice(value.start, end < 0 ? text.length : end).trim();
  if (written.some((one) => toFlowYaml(one) === lines)) return true;
  if (lines.includes('#')) return false;
  const current = withoutTypes(toValue(node));
  return written.some((one) => withoutTypes(one) === current);
}

/** The value as text, in which a number is the same with and without quotes. */
function withoutTypes(value: unknown): string {
  return canonicalText(value, (scalar) => JSON.stringify(String(scalar)));
}
