import type { FileSource } from '../../workspace/fileSource.ts';

/** Files asked of the disk at once: enough to keep it busy while one is parsed, and far from any limit on open files. */
const maxConcurrentReads = 32;

/**
 * Files that will be read one after another, each fetched while those before it are worked on. Each text is handed out
 * once; asked for again, or not among the files named, it comes from the source as it then is.
 *
 * @param uris in the order in which they will be read
 */
export function readAhead(source: FileSource, uris: readonly string[]): FileSource {
  const fetched = new Map<string, Promise<string | undefined>>();
  const handedOut = new Set<string>();
  let next = 0;
  const fetchMore = (): void => {
    for (; next < uris.length && fetched.size < maxConcurrentReads; next++) {
      const uri = uris[next]!;
      if (!handedOut.has(uri)) fetched.set(uri, source.read(uri));
    }
  };
  return {
    list: (folder) => source.list(folder),
    async read(uri) {
      fetchMore();
      handedOut.add(uri);
      const text = fetched.get(uri);
      if (!text) return source.read(uri);
      fetched.delete(uri);
      fetchMore();
      return text;
    },
  };
}
