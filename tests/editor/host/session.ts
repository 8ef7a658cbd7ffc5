import { existsSync, statSync } from 'node:fs';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { chromium } from 'playwright-core';
import type { Browser, Page } from 'playwright-core';
import type { EditorHost } from './install.ts';
import { HostProblem } from './problem.ts';
import { startServer } from './server.ts';
import type { RunningServer } from './server.ts';
import { writeSettings } from './settings.ts';
import type { EditorSettings } from './settings.ts';

/** Options of a workbench: server, browser and page together. Paths may be relative. */
export interface SessionOptions {
  readonly host: EditorHost;
  readonly extensionPaths: readonly string[];
  readonly testsPath?: string | undefined;
  /** The folder, or the .code-workspace file, to open. */
  readonly workspace?: string | undefined;
  /** A file that is open from the start. */
  readonly openFile?: string | undefined;
  /** Where given, the folder is kept after the session; else a temporary folder is used and removed. */
  readonly userDataDir?: string | undefined;
  readonly extensionsDir?: string | undefined;
  readonly trustEverything: boolean;
  readonly settings?: EditorSettings;
  /** In CSS pixels. */
  readonly viewport?: { readonly width: number; readonly height: number };
  /** Pixels of the screen to each CSS pixel: how much everything is enlarged. */
  readonly zoom?: number;
  /** Environment of the server, and through it of the extensions. */
  readonly env?: NodeJS.ProcessEnv;
  /** Called with the page before the workbench is loaded into it. */
  readonly prepare?: (page: Page) => Promise<void>;
}

/** An open workbench. */
export interface Session {
  readonly page: Page;
  /** Resolves with a sentence when the server, the browser or the page ends before it was closed. */
  readonly died: Promise<string>;
  /** Ends every process and removes temporary folders. May be called more than once. */
  close(): Promise<void>;
}

/** In CSS pixels. */
export const DEFAULT_VIEWPORT = { width: 1280, height: 800 };
const LOAD_LIMIT_MS = 180_000;
const CHROMIUM_FLAGS = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/**
 * Opens a workbench.
 *
 * @throws HostProblem where a path does not exist, or the server or the browser does not start; everything
 *   started before the failure is ended first
 */
export async function openSession(options: SessionOptions): Promise<Session> {
  for (const path of [...options.extensionPaths, options.testsPath, options.workspace]) {
    if (path !== undefined && !existsSync(path)) throw new HostProblem(`There is no file or folder ${path}.`);
  }
  let server: RunningServer | undefined;
  let browser: Browser | undefined;
  let temporary: string | undefined;
  let closing: Promise<void> | undefined;
  const closeOnce = async (): Promise<void> => {
    // The browser is closed first: a page that loses its server would try to connect again.
    await browser?.close().catch(() => undefined);
    await server?.stop();
    if (temporary !== undefined) await rm(temporary, { recursive: true, force: true, maxRetries: 5 });
  };
  const close = (): Promise<void> => (closing ??= closeOnce());

  try {
    if (options.userDataDir === undefined || options.extensionsDir === undefined) {
      temporary = await mkdtemp(join(tmpdir(), 'editor-host-'));
    }
    const dataDir = resolve(options.userDataDir ?? join(temporary ?? '', 'user-data'));
    const extensionsDir = resolve(options.extensionsDir ?? join(temporary ?? '', 'extensions'));
    await mkdir(extensionsDir, { recursive: true });
    await writeSettings(dataDir, options.settings ?? {});
    const { host, trustEverything, env = {} } = options;
    server = await startServer({ host, dataDir, extensionsDir, trustEverything, env });
    browser = await startBrowser(host.chromium);
    const page = await browser.newPage({
      viewport: options.viewport ?? DEFAULT_VIEWPORT,
      deviceScaleFactor: options.zoom ?? 1,
    });
    // Only to end what hangs: other checks share the machine, and no test is about time.
    page.setDefaultTimeout(LOAD_LIMIT_MS);
    const died = Promise.race([server.died, endOf(browser, page)]);
    await options.prepare?.(page);
    await page.goto(workbenchAddress(server.port, options), {
      timeout: LOAD_LIMIT_MS,
      waitUntil: 'domcontentloaded',
    });
    return { page, died, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/**
 * Starts Chromium without a window.
 *
 * @throws HostProblem where it does not start
 */
export async function startBrowser(executablePath: string): Promise<Browser> {
  try {
    return await chromium.launch({
      executablePath,
      headless: true,
      // Chromium's sandbox works neither for root nor in many containers. Only pages of our own server are opened.
      chromiumSandbox: false,
      args: CHROMIUM_FLAGS,
      // The caller handles signals, since it has to close the server as well.
      handleSIGHUP: false,
      handleSIGINT: false,
      handleSIGTERM: false,
    });
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new HostProblem(`Chromium (${executablePath}) did not start: ${reason}`);
  }
}

function endOf(browser: Browser, page: Page): Promise<string> {
  return new Promise((resolve) => {
    browser.on('disconnected', () => resolve('Chromium ended before the editor was done.'));
    page.on('crash', () => resolve('The page of the editor crashed.'));
  });
}

/** The address that makes the server's page open this workspace with this extension. */
function workbenchAddress(port: number, options: SessionOptions): string {
  const remote = (path: string): string => `vscode-remote://127.0.0.1:${port}${encodeURI(resolve(path))}`;
  const payload: [string, string][] = options.extensionPaths.map((path) => [
    'extensionDevelopmentPath',
    remote(path),
  ]);
  if (options.testsPath !== undefined) payload.push(['extensionTestsPath', remote(options.testsPath)]);
  if (options.openFile !== undefined) payload.push(['openFile', remote(options.openFile)]);
  payload.push(['skipWelcome', 'true']);
  const address = new URL(`http://127.0.0.1:${port}/`);
  if (options.workspace === undefined) address.searchParams.set('ew', 'true');
  else {
    const kind = statSync(options.workspace).isDirectory() ? 'folder' : 'workspace';
    address.searchParams.set(kind, resolve(options.workspace));
  }
  address.searchParams.set('payload', JSON.stringify(payload));
  return address.href;
}
