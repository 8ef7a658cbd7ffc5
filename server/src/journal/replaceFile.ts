import { chmod, open, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/**
 * Replaces a file's text whole or not at all: the new text is written to a temporary file in the same folder, which
 * takes the file's place once it is on the disk. The file's mode is kept. Throws what the system says where that fails;
 * nothing is left behind.
 */
export async function replaceFile(path: string, text: string): Promise<void> {
  const { mode } = await stat(path);
  const temporary = join(dirname(path), `.${basename(path)}.${process.pid}.tmp`);
  // `wx`: never write through a file or link that somebody else put there.
  const handle = await open(temporary, 'wx', mode);
  try {
    try {
      await handle.writeFile(text, 'utf8');
      await handle.sync();
    } finally {
      await handle.close();
    }
    await chmod(temporary, mode & 0o7777);
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
}
