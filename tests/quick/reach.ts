import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** Which files each file of the project names: by imports, by URLs beside itself, and by paths in the project. */
export type References = ReadonlyMap<string, readonly string[]>;

/** `from '…'`, `import '…'`, `import('…')`, and every other text in quotes that may be a path. */
const QUOTED = /(['"`])((?:\.{1,2}\/|(?:client|server|schemas|samples|tests)\/)[^'"`\n\s]*)\1/g;
/** `join(import.meta.dirname, '…')` and the like: a path from the file's own folder without a dot before it. */
const BESIDE = /import\.meta\.(?:dirname|url),\s*'([^'\n]+)'/g;
/** `new URL('…', import.meta.url)` with a part that is filled in: all files of the folder count. */
const FILLED = /\$\{.*$/;

/**
 * Reads what files name. Looser than imports are: tests bundle programs, read samples and start scripts by their
 * paths. A path that is a folder names all files in it.
 *
 * @param files paths of the files in the project; only files among them are named
 */
export function readReferences(root: string, files: readonly string[]): References {
  const known = new Set(files);
  const byFolder = new Map<string, string[]>();
  for (const path of files)
    for (let folder = dirname(path); folder !== '.'; folder = dirname(folder))
      byFolder.set(folder, [...(byFolder.get(folder) ?? []), path]);

  const targets = (from: string, name: string): readonly string[] => {
    const plain = name.replace(FILLED, '').replace(/[?#].*$/, '');
    const isRelative = plain.startsWith('.');
    const places = isRelative ? [join(dirname(from), plain)] : [plain, join(dirname(from), plain)];
    for (const place of places.map((one) => one.replaceAll('\\', '/').replace(/\/$/, ''))) {
      if (known.has(place)) return [place];
      // The project's own root or a folder as large as that says nothing.
      if (place.includes('/') || place === 'samples' || place === 'schemas') {
        const inside = byFolder.get(place);
        if (inside) return inside;
      }
    }
    return [];
  };

  return new Map(
    files.map((path) => {
      if (!/\.(?:[cm]?[jt]s|css)$/.test(path) || !existsSync(join(root, path))) return [path, []];
      const text = readFileSync(join(root, path), 'utf8');
      const quoted = [...text.matchAll(QUOTED)].map((match) => match[2]!);
      const beside = [...text.matchAll(BESIDE)].map((match) => match[1]!);
      const named = [...quoted, ...beside].flatMap((name) => targets(path, name));
      return [path, [...new Set(named)].filter((one) => one !== path)];
    }),
  );
}

/**
 * Files from which the changed ones can be reached, each with the fewest steps to one of them; the changed ones are 0
 * steps away.
 */
export function reachedBy(references: References, changed: Iterable<string>): Map<string, number> {
  const namedBy = new Map<string, string[]>();
  for (const [from, named] of references)
    for (const to of named) namedBy.set(to, [...(namedBy.get(to) ?? []), from]);
  const steps = new Map<string, number>([...changed].map((path) => [path, 0]));
  // A map is walked in the order in which it grows: the nearest first.
  for (const [path, count] of steps)
    for (const from of namedBy.get(path) ?? []) if (!steps.has(from)) steps.set(from, count + 1);
  return steps;
}
