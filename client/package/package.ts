/**
 * Makes the two packages: the extension as a VSIX file and the command line as an npm package. The same sources give
 * the same bytes every time. `npm run package [-- FOLDER]`; the files go to dist/ where no folder is named.
 */
import { mkdir, stat } from 'node:fs/promises';
import { join, relative, resolve } from 'node:path';
import { packAll } from './packAll.ts';

const root = join(import.meta.dirname, '../..');
const folder = resolve(process.argv[2] ?? join(root, 'dist'));
await mkdir(folder, { recursive: true });
const { vsix, tarball } = await packAll(folder);
for (const file of [vsix, tarball]) {
  const kilobytes = ((await stat(file)).size / 1000).toFixed(0);
  process.stdout.write(`${relative(process.cwd(), file)}  ${kilobytes} kB\n`);
}
