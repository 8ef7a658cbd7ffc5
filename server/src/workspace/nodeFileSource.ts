import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { URI } from 'vscode-uri';
import { restoreFiles } from '../disk/leftovers.ts';
import { fileKindOf } from '../files/fileKind.ts';
import type { FileSource } from './fileSource.ts';

/** Folders that hold no routes but many files. */
const skippedFolders = new Set(['node_modules', '.git', '.hg', '.svn']);

/** Files on the disk. Links to folders are not followed, so that no loop of links can trap the search. */
export function nodeFileSource(): FileSource {
  return {
    async list(folder) {
      const found: string[] = [];
      const folders = [URI.parse(folder).fsPath];
      for (let here = folders.pop(); here !== undefined; here = folders.pop()) {
        // A folder that was removed meanwhile or may not be read counts as empty.
        const entries = await readdir(here, { withFileTypes: true }).catch(() => []);
        const names = entries.map(({ name }) => name);
        for (const name of restoreFiles(here, names))
          if (fileKindOf(name)) found.push(URI.file(join(here, name)).toString());
        for (const entry of entries) {
          const path = join(here, entry.name);
          if (entry.isDirectory() && !skippedFolders.has(entry.name)) folders.push(path);
          else if (!entry.isDirectory() && fileKindOf(entry.name)) found.push(URI.file(path).toString());
        }
      }
      return found.sort();
    },
    read: (uri) => readFile(URI.parse(uri).fsPath, 'utf8').catch(() => undefined),
  };
}
