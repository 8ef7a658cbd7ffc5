import type { Connection } from 'vscode-languageserver';
import { URI } from 'vscode-uri';
import { requestOr } from '../../protocol/messages/message.ts';
import { listFilesRequest, readFileRequest } from '../../protocol/messages/clientFiles.ts';
import { maxFileBytes } from '../../files/reading/unread.ts';
import type { FileSource } from '../../workspace/fileSource.ts';

/**
 * Files that the editor reads for the server: in a browser, or in folders that are on no disk. With a client that does
 * not answer such requests, the server has only the files that the client opens.
 */
export function clientFiles(connection: Connection): FileSource {
  return {
    async list(folder) {
      const found = await requestOr(connection, listFilesRequest, { folder }, []);
      return found.map((uri) => URI.parse(uri).toString()).sort();
    },
    read: async (uri) =>
      (await requestOr(connection, readFileRequest, { uri, most: maxFileBytes }, null)) ?? undefined,
  };
}

/** Reads files on the disk from one source and all others from another. */
export function fileSourceByScheme(disk: FileSource, others: FileSource): FileSource {
  const source = (uri: string) => (URI.parse(uri).scheme === 'file' ? disk : others);
  return {
    list: (folder) => source(folder).list(folder),
    read: (uri, within) => source(uri).read(uri, within),
  };
}
