import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/**
 * A folder of its own below the system's temporary one, with one route file in it.
 *
 * @param otherFiles texts of other files in the folder, by name
 */
export function folderWith(
  route: string,
  otherFiles: Readonly<Record<string, string>> = {},
): { folder: string; folderUri: string; uri: string } {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-bench-'));
  const file = join(folder, 'lanternfall.route.yaml');
  writeFileSync(file, route);
  for (const [name, text] of Object.entries(otherFiles)) writeFileSync(join(folder, name), text);
  return { folder, folderUri: pathToFileURL(folder).toString(), uri: pathToFileURL(file).toString() };
}

/** Removes such a folder and what is in it. */
export function removeFolder(folder: string): void {
  rmSync(folder, { recursive: true, force: true });
}
