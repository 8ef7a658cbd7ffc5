import { ErrorCodes, ResponseError, type Connection } from 'vscode-languageserver';
import { URI } from 'vscode-uri';
import {
  listFilesRequest,
  readFileRequest,
  type ListFilesParams,
  type ListFilesResult,
  type ReadFileParams,
  type ReadFileResult,
} from '../../protocol/messages.ts';
import type { FileSource } from '../../workspace/fileSource.ts';

/**
 * Files that the editor reads for the server: in a browser, or in folders that lie on no disk.
 * With a client that does not answer such requests there are none beyond those it opens.
 */
export function clientFiles(connection: Connection): FileSource {
  async function ask<R>(method: string, params: ListFilesParams | ReadFileParams, none: R): Promise<R> {
    try {
      return await connection.sendRequest<R>(method, params);
    } catch (error) {
      if (error instanceof ResponseError && error.code === ErrorCodes.MethodNotFound) return none;
      throw error;
    }
  }
  return {
    async list(folder) {
      const found = await ask<ListFilesResult>(listFilesRequest, { folder }, []);
      return found.map((uri) => URI.parse(uri).toString()).sort();
    },
    read: async (uri) => (await ask<ReadFileResult>(readFileRequest, { uri }, null)) ?? undefined,
  };
}

/** Files on the disk from one source, all others from another. */
export function fileSourceByScheme(disk: FileSource, others: FileSource): FileSource {
  const source = (uri: string) => (URI.parse(uri).scheme === 'file' ? disk : others);
  return {
    list: (folder) => source(folder).list(folder),
    read: (uri) => source(uri).read(uri),
  };
}
