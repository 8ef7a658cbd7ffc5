import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** A hash of what a build of the server is made from: its source, the schemas' code in it, and the versions of the libraries. */
export async function buildHash() {
  const hash = createHash('sha256').update(await readFile('package-lock.json'));
  const entries = await readdir('server/src', { recursive: true, withFileTypes: true });
  const files = entries
    .filter((entry) => entry.isFile())
    .map(({ parentPath, name }) => join(parentPath, name));
  for (const file of files.sort()) hash.update(`${file}\0`).update(await readFile(file));
  return hash.digest('hex');
}
