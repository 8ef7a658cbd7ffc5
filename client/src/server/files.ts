import { Disposable, FileType, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  listFilesRequest,
  readFileRequest,
  type ListFilesResult,
  type ReadFileResult,
} from '../../../server/src/protocol/messages/clientFiles.ts';
import { isRoutewrightFileName } from '../editor/selector.ts';
import { answerRequest } from '../../../server/src/protocol/messages/message.ts';

/** Folders that hold no routes but many files. */
const skippedFolders = new Set(['node_modules', '.git', '.hg', '.svn']);

/** Reads files for the server where it cannot: in a browser, and in folders that are on no disk. */
export function serveFiles(client: BaseLanguageClient): Disposable {
  return Disposable.from(
    answerRequest(client, listFilesRequest, ({ folder }) => list(Uri.parse(folder))),
    answerRequest(client, readFileRequest, ({ uri }) => read(Uri.parse(uri))),
  );
}

async function list(folder: Uri): Promise<ListFilesResult> {
  return (await routewrightFilesIn(folder)).map((uri) => uri.toString());
}

/** Every Routewright file below a folder, found without the editor's search, which some kinds of folder do not have. */
export async function routewrightFilesIn(folder: Uri): Promise<Uri[]> {
  const found: Uri[] = [];
  const folders = [folder];
  for (let here = folders.pop(); here; here = folders.pop()) {
    for (const [name, type] of await entries(here)) {
      const uri = Uri.joinPath(here, name);
      if (type === FileType.Directory && !skippedFolders.has(name)) folders.push(uri);
      // A link to a file is a file too; links to folders are not followed, so that no loop traps the search.
      else if ((type & FileType.File) !== 0 && isRoutewrightFileName(name)) found.push(uri);
    }
  }
  return found;
}

/** The entries of a folder; none where it was removed meanwhile or may not be read. */
async function entries(folder: Uri): Promise<[string, FileType][]> {
  try {
    return await workspace.fs.readDirectory(folder);
  } catch {
    return [];
  }
}

async function read(uri: Uri): Promise<ReadFileResult> {
  try {
    return new TextDecoder('utf-8', { ignoreBOM: true }).decode(await workspace.fs.readFile(uri));
  } catch {
    return null;
  }
}
