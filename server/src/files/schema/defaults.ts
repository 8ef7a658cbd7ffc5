import type { FileKind } from '../fileKind.ts';
import { schemaAt } from './schema.ts';
import type { Path } from '../yaml/tree.ts';

/** The default that the schema states for the value at a path. It is written nowhere else. */
export function defaultNumber(kind: FileKind, path: Path): number {
  const stated = schemaAt(kind, path)?.default;
  if (typeof stated !== 'number')
    throw new Error(`The schema states no default number for ${kind}: ${path.join('.')}.`);
  return stated;
}

/** The same for a text. */
export function defaultText(kind: FileKind, path: Path): string {
  const stated = schemaAt(kind, path)?.default;
  if (typeof stated !== 'string')
    throw new Error(`The schema states no default text for ${kind}: ${path.join('.')}.`);
  return stated;
}
