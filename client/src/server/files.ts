import { Disposable, FileSystemError, FileType, Uri, workspace } from 'vscode';
import {
  listFilesRequest,
  readFileRequest,
  type ListFilesResult,
  type ReadFileResult,
} from '../../../server/src/protocol/messages/clientFiles.ts';
import { isRoutewrightFileName } from '../editor/selector.ts';
import { answerRequest, type Requests } from '../../../server/src/protocol/messages/message.ts';

/** Folders that hold no routes but many files. */
const skippedFolders = new Set(['node_modules', '.git', '.hg', '.svn']);

/** Reads files for the server where it cannot: in a browser, and in folders that are on no disk. */
export function serveFiles(client: Requests): Disposable {
  return Disposable.from(
    answerRequest(client, listFilesRequest, ({ folder }) => list(Uri.parse(folder))),
    answerRequest(client, readFileRequest, ({ uri, most }) => read(Uri.parse(uri), most)),
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
      // Links to folders are not followed, so that no loop traps the search. What bears the name of a file and is none
      // is listed: reading it says so.
      else if (type !== FileType.Directory && isRoutewrightFileName(name)) found.push(uri);
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

/**
 * A file's text, or why it is not read. Where a link leads cannot be asked here, so none is followed.
 *
 * @param most larger files are not read, in bytes
 */
async function read(uri: Uri, most: number): Promise<ReadFileResult> {
  try {
    const { type, size } = await workspace.fs.stat(uri);
    if ((type & FileType.SymbolicLink) !== 0) return { why: 'link', detail: '' };
    // What the editor calls unknown: pipes count as devices here.
    if (type !== FileType.File)
      return { why: 'no-file', detail: type === FileType.Directory ? 'a folder' : 'a device' };
    if (size > most) return { why: 'too-large', detail: String(size) };
    const bytes = await workspace.fs.readFile(uri);
    if (bytes.length > most) return { why: 'too-large', detail: String(bytes.length) };
    return textOf(bytes);
  } catch (error) {
    if (error instanceof FileSystemError && error.code === 'FileNotFound') return null;
    return { why: 'refused', detail: (error instanceof Error ? error.message : String(error)).slice(0, 500) };
  }
}

function textOf(bytes: Uint8Array): ReadFileResult {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return { why: 'not-text', detail: '' };
  }
}
