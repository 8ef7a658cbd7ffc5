import { readFile, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import type { EditorHost } from '../host/install.ts';
import type { EditorSettings } from '../host/settings.ts';
import { answerFolder } from './folder.ts';
import { FOLDER_EXTENSION, SCHEME } from './folderExtension.ts';
import { PLACES, workbenchPage, workbenchScript } from './page.ts';

const KINDS: Readonly<Record<string, string>> = {
  '.css': 'text/css',
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.json': 'application/json',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
  '.woff': 'font/woff',
};

/** A running server of files: the workbench, the extension, and the folder that is open. */
export interface WebServer {
  readonly address: string;
  stop(): Promise<void>;
}

/**
 * Serves a workbench that has no server of its own: only files, as a web host would, on a free port of 127.0.0.1.
 *
 * @param options.extension the files of our extension by their paths
 * @param options.folder the folder that the editor reaches over HTTP
 */
export async function startWebServer(options: {
  readonly host: EditorHost;
  readonly extension: ReadonlyMap<string, Buffer>;
  readonly folder: string;
  /** The path in the folder that is opened; it begins with a slash. */
  readonly opened: string;
  readonly settings: EditorSettings;
}): Promise<WebServer> {
  const { host, extension, folder, opened, settings } = options;
  const script = await workbenchScript(host);
  const sent = (response: ServerResponse, path: string, text: string | Buffer): void => {
    const type = KINDS[extname(path)] ?? 'application/octet-stream';
    response.writeHead(200, { 'content-type': type, 'cache-control': 'no-store' }).end(text);
  };
  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname));
    if (path === '/folder' || path.startsWith('/folder/'))
      return answerFolder(folder, path.slice('/folder/'.length), request, response);
    if (path === '/') {
      const page = workbenchPage(request.headers.host ?? '', `${SCHEME}:${opened}`, settings);
      return sent(response, 'index.html', page);
    }
    if (path === '/out/vs/code/browser/workbench/workbench.js') return sent(response, path, script);
    const given = path.startsWith(`${PLACES.folderExtension}/`)
      ? FOLDER_EXTENSION[path.slice(PLACES.folderExtension.length + 1)]
      : path.startsWith(`${PLACES.extension}/`)
        ? extension.get(path.slice(PLACES.extension.length + 1))
        : undefined;
    if (given !== undefined) return sent(response, path, given);
    const file = join(host.folder, path);
    if (path.split('/').includes('..') || !(await isFile(file))) return void response.writeHead(404).end();
    sent(response, path, await readFile(file));
  };
  const server = createServer((request, response) => {
    answer(request, response).catch((error: unknown) => response.writeHead(500).end(String(error)));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}/`,
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (about) => about.isFile(),
    () => false,
  );
}
