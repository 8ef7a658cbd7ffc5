import { readdir, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { URI } from 'vscode-uri';
import { readGuarded } from '../disk/guardedRead.ts';
import { restoreFiles } from '../disk/leftovers.ts';
import { repositoryOf } from '../disk/reach.ts';
import { fileKindOf } from '../files/fileKind.ts';
import { isUnread } from '../files/reading/unread.ts';
import type { FileSource } from './fileSource.ts';
import { diskLimits, limitReads } from './limitReads.ts';

/** Folders that hold no routes but many files. */
export const skippedFolders: ReadonlySet<string> = new Set(['node_modules', '.git', '.hg', '.svn']);

/**
 * Files on the disk. Links to folders are not followed, so that no loop of links can trap the search. A link to a file
 * is, as long as it stays in the folders or in the git repositories that they belong to.
 */
export function nodeFileSource(): FileSource {
  const roots = new Map<string, Promise<string[]>>();
  const rootsOf = async (folders: readonly string[]): Promise<string[]> => {
    for (const folder of folders) if (!roots.has(folder)) roots.set(folder, realRoot(folder));
    return (await Promise.all(folders.map((folder) => roots.get(folder)!))).flat();
  };
  return limitReads(
    {
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
      async read(uri, within) {
        const path = URI.parse(uri).fsPath;
        const found = await readGuarded(path, await rootsOf(within));
        if (!isUnread(found) || found.why !== 'outside') return found;
        // The folders may have been moved or made anew since they were looked at.
        roots.clear();
        return readGuarded(path, await rootsOf(within));
      },
    },
    diskLimits,
  );
}

/** The real path of the repository that a folder belongs to, else of the folder; none where it is gone. */
async function realRoot(folder: string): Promise<string[]> {
  const path = await realpath(URI.parse(folder).fsPath).catch(() => undefined);
  return path === undefined ? [] : [repositoryOf(path) ?? path];
}
