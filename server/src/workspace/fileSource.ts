import type { Unread } from '../files/reading/unread.ts';

/**
 * Where the server gets files from: a disk, or the editor where there is no disk. Files are named by URI; a folder's
 * URI has no slash at its end.
 */
export interface FileSource {
  /** URIs of all files below a folder whose name has one of the five endings, in a stable order. */
  list(folder: string): Promise<readonly string[]>;
  /**
   * A file's text; undefined where there is none, and otherwise why it was not read.
   *
   * @param within URIs of the folders that it must really be in, whatever links lead to it
   */
  read(uri: string, within: readonly string[]): Promise<string | Unread | undefined>;
}

/** Files that are in memory already: for tests, and for text that was never saved. */
export function memoryFileSource(files: Readonly<Record<string, string>>): FileSource {
  const text = new Map(Object.entries(files));
  return {
    list: (folder) => Promise.resolve([...text.keys()].filter((uri) => uri.startsWith(`${folder}/`)).sort()),
    read: (uri) => Promise.resolve(text.get(uri)),
  };
}
