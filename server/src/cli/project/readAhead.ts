import type { FileSource } from '../../workspace/fileSource.ts';

/**
 * Files read from the disk at the same time: enough to keep the disk busy while one is parsed, and far below any limit
 * on open files.
 */
const maxConcurrentReads = 32;

/**
 * A source for files that will be read one after another: while one is being parsed, the next are fetched already. Each
 * fetched text is given out once. A second request for it, or one for another file, reads the file at that moment.
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
