import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { dirname, join, sep } from 'node:path';

/** The editor's numbers for the two kinds of entry. */
const FILE = 1;
const FOLDER = 2;

/**
 * Answers the requests of the extension in folderExtension.ts, which reads and writes a folder of this machine over
 * HTTP. The HTTP method and the query say what to do.
 *
 * @param folder absolute path; nothing outside it can be reached
 * @param path the path inside, without a slash at its beginning
 */
export async function answerFolder(
  folder: string,
  path: string,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const inside = (name: string): string => {
    const full = join(folder, name);
    if (full !== folder && !full.startsWith(folder + sep)) throw new Error(`${name} lies outside.`);
    return full;
  };
  const query = new URL(request.url ?? '/', 'http://localhost').searchParams;
  const target = inside(path);
  try {
    const answer = await act(request, query, target, inside);
    response.writeHead(200, { 'content-type': 'application/octet-stream' }).end(answer);
  } catch (error) {
    const missing = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    response.writeHead(missing ? 404 : 500).end(String(error));
  }
}

async function act(
  request: IncomingMessage,
  query: URLSearchParams,
  target: string,
  inside: (name: string) => string,
): Promise<string | Buffer> {
  const renamed = query.get('rename');
  if (request.method === 'PUT') {
    await mkdir(dirname(target), { recursive: true });
    await writeFile(target, await bodyOf(request));
  } else if (request.method === 'DELETE') await rm(target, { recursive: true });
  else if (renamed !== null) await rename(target, inside(renamed));
  else if (query.has('create')) await mkdir(target, { recursive: true });
  else if (query.has('stat')) {
    const about = await stat(target);
    const type = about.isDirectory() ? FOLDER : FILE;
    const [mtime, ctime] = [about.mtimeMs, about.ctimeMs].map(Math.round);
    return JSON.stringify({ type, size: about.size, mtime, ctime });
  } else if (query.has('list')) {
    const entries = await readdir(target, { withFileTypes: true });
    return JSON.stringify(entries.map((entry) => [entry.name, entry.isDirectory() ? FOLDER : FILE]));
  } else return readFile(target);
  return '';
}

async function bodyOf(request: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts);
}
