import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { installHost } from '../host/install.ts';
import { DEFAULT_VIEWPORT, startBrowser } from '../host/session.ts';
import { QUIET } from '../host/settings.ts';
import type { EditorSettings } from '../host/settings.ts';
import { waitForFiles } from '../host/workbench.ts';
import type { OpenSample } from '../person/sample.ts';
import { ROOT } from '../person/sample.ts';
import { copyData } from '../stage.ts';
import { filesIn, makePackages } from '../../package/packages.ts';
import { startWebServer } from './server.ts';
import type { WebServer } from './server.ts';

/** Name of the folder that the editor opens. */
const NAME = 'lanternfall';
/** Packed once for all tests of a run. */
let shipped: Promise<ReadonlyMap<string, Buffer>> | undefined;

/** Opens an editor that runs in the browser alone, on a copy of the sample that is on none of its disks. */
export async function openOnWeb(settings: EditorSettings = {}): Promise<OpenSample> {
  const host = await installHost();
  const temporary = await mkdtemp(join(tmpdir(), 'editor-web-'));
  const folder = join(temporary, NAME);
  let server: WebServer | undefined;
  let browser: Browser | undefined;
  const close = async (): Promise<void> => {
    await browser?.close().catch(() => undefined);
    await server?.stop();
    await rm(temporary, { recursive: true, force: true, maxRetries: 5 });
  };
  try {
    await copyData(join(ROOT, 'samples'), folder);
    server = await startWebServer({
      host,
      extension: await (shipped ??= extensionAsShipped()),
      folder: temporary,
      opened: `/${NAME}`,
      settings: { ...QUIET, ...settings },
    });
    browser = await startBrowser(host.chromium);
    const page = await browser.newPage({ viewport: DEFAULT_VIEWPORT });
    page.setDefaultTimeout(180_000);
    await page.goto(server.address, { waitUntil: 'domcontentloaded' });
    await waitForFiles(page);
    return { page, folder, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/** The files in the extension's VSIX file, by their paths in its folder. */
async function extensionAsShipped(): Promise<ReadonlyMap<string, Buffer>> {
  const folder = await mkdtemp(join(tmpdir(), 'editor-web-package-'));
  try {
    const { vsix } = await makePackages(folder);
    const own = 'extension/';
    const files = [...(await filesIn(vsix))].filter(([path]) => path.startsWith(own));
    return new Map(files.map(([path, bytes]) => [path.slice(own.length), bytes]));
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}
