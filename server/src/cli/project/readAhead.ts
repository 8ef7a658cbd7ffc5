import type { FileSource } from '../../workspace/fileSource.ts';

/**
 * Files fetched before they are asked for: enough to keep the disk busy while one is parsed, and few enough that all of
 * them at their largest fit into the memory.
 */
const maxFetched = 8;

/**
 * A source for files that will be read one after another: while one is being parsed, the next are fetched already. Each
 * fetched text is given out once. A second request for it, or one for another file, reads the file at that moment.
 *
 * @param uris in the order in which they will be read
 */
export function readAhead(source: FileSource, uris: readonly string[]): FileSource {
  const fetched = new Map<string, ReturnType<FileSource['read']>>();
  const handedOut = new Set<string>();
  let next = 0;
  const fetchMore = (within: readonly string[]): void => {
    for (; next < uris.length && fetched.size < maxFetched; next++) {
      const uri = uris[next]!;
      if (!handedOut.has(uri)) fetched.set(uri, source.read(uri, within));
    }
  };
  return {
    list: (folder) => source.list(folder),
    async read(uri, within) {
      fetchMore(within);
      handedOut.add(uri);
      const text = fetched.get(uri);
      if (!text) return source.read(uri, within);
      fetched.delete(uri);
      fetchMore(within);
      return text;
    },
  };
}
