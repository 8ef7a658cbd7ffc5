import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { panelPage } from '../../client/src/panel/panelPage.ts';
import { pageHtml } from '../../client/src/webview/page.ts';
import type { PanelViewMessage } from '../../server/src/protocol/panel/pageMessages.ts';
import { panelDataShape, type PanelData } from '../../server/src/protocol/panel/panelData.ts';
import { viewTitles, type PanelView } from '../../server/src/protocol/panel/views.ts';
import { ensurePrograms } from '../editor/host/programs.ts';

const root = join(import.meta.dirname, '../..');
const origin = 'http://panel.test';

/** The kinds of theme whose variables were read off the real editor. */
export const themes = ['light', 'dark', 'high-contrast', 'high-contrast-light'] as const;
export type Theme = (typeof themes)[number];

interface ThemeVariables {
  readonly kind: string;
  readonly variables: Readonly<Record<string, string>>;
}

const themeVariables = JSON.parse(
  readFileSync(join(import.meta.dirname, 'fixtures/themes.json'), 'utf8'),
) as Readonly<Record<Theme, ThemeVariables>>;

/** What the server says for one view of the sample. @throws where the kept answer is not in order */
export function answer(view: PanelView): PanelData {
  const data: unknown = JSON.parse(readFileSync(join(import.meta.dirname, `fixtures/${view}.json`), 'utf8'));
  if (!panelDataShape.fits(data))
    throw new Error(`fixtures/${view}.json is out of date: run makeFixtures.ts.`);
  return data;
}

/** Starts a browser; the caller closes it. */
async function startBrowser(): Promise<Browser> {
  const { chromium: executablePath } = await ensurePrograms({
    compilers: false,
    say: (sentence) => process.stderr.write(`${sentence}\n`),
  });
  return chromium.launch({ executablePath, headless: true, chromiumSandbox: false, args: ['--disable-gpu'] });
}

/** A browser, and a page's script and style. */
export interface Started<Bundle> {
  readonly browser: Browser;
  readonly bundled: Bundle;
}

/**
 * Starts a browser and bundles a page before the tests of a file, and closes the browser after them.
 *
 * @returns what was started; call it in a test
 */
export function startBeforeTests<Bundle>(bundle: () => Promise<Bundle>): () => Started<Bundle> {
  let started: Started<Bundle>;
  beforeAll(async () => {
    const [browser, bundled] = await Promise.all([startBrowser(), bundle()]);
    started = { browser, bundled };
  }, 300_000);
  afterAll(() => started.browser.close());
  return () => started;
}

/** The panel's script and style, bundled as for the editor. */
export async function bundlePanel(): Promise<{ readonly script: string; readonly style: string }> {
  const bundle = async (entry: string): Promise<string> => {
    const { outputFiles } = await build({
      entryPoints: [join(root, entry)],
      bundle: true,
      write: false,
      format: 'iife',
      platform: 'browser',
      target: 'es2022',
      mainFields: ['browser', 'module', 'main'],
    });
    return outputFiles[0]?.text ?? '';
  };
  return { script: await bundle('client/panel/main.ts'), style: await bundle('client/panel/panel.css') };
}

/** The panel in a page of its own, with a stand-in for the editor around it. */
export interface OpenPanel {
  readonly page: Page;
  /** Everything the panel said so far. */
  readonly said: () => Promise<PanelViewMessage[]>;
  /** Sends the panel a message, in order or not. */
  readonly tell: (message: unknown) => Promise<void>;
  readonly show: (data: PanelData) => Promise<void>;
  /** Chooses a view by its tab and answers for it. */
  readonly choose: (view: PanelView) => Promise<void>;
  /** What the browser refused to load or to obey, and errors of the script. */
  readonly complaints: readonly string[];
  /** Addresses that were asked for. */
  readonly requests: readonly string[];
}

/** Opens the panel in a theme at a width; the page is closed with the browser. */
export async function openPanel(
  { browser, bundled }: Started<Awaited<ReturnType<typeof bundlePanel>>>,
  options: {
    readonly theme?: Theme;
    readonly width?: number;
    readonly height?: number;
    readonly reducedMotion?: boolean;
  } = {},
): Promise<OpenPanel> {
  const { theme = 'light', width = 640, height = 800, reducedMotion = false } = options;
  const page = await browser.newPage({
    viewport: { width, height },
    reducedMotion: reducedMotion ? 'reduce' : 'no-preference',
  });
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('request', (request) => requests.push(request.url()));
  const nonce = 'c0ffee';
  const html = pageHtml(panelPage, {
    script: `${origin}/panel.js`,
    style: `${origin}/panel.css`,
    source: origin,
    nonce,
  });
  await page.route('**/*', (route) => {
    const { pathname } = new URL(route.request().url());
    if (pathname === '/') return route.fulfill({ contentType: 'text/html', body: html });
    if (pathname === '/panel.js')
      return route.fulfill({ contentType: 'text/javascript', body: bundled.script });
    if (pathname === '/panel.css') return route.fulfill({ contentType: 'text/css', body: bundled.style });
    return route.abort();
  });
  await page.addInitScript(standIn, themeVariables[theme]);
  await page.goto(`${origin}/`);
  await page.locator('.tab').first().waitFor();
  const tell = (message: unknown): Promise<void> =>
    page.evaluate((sent) => window.postMessage(sent, '*'), message);
  const show = async (data: PanelData): Promise<void> => {
    await tell({ type: 'show', data });
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 0)));
  };
  const said = (): Promise<PanelViewMessage[]> =>
    page.evaluate(() => (window as unknown as { said: PanelViewMessage[] }).said);
  const choose = async (view: PanelView): Promise<void> => {
    await page.getByRole('tab', { name: viewTitles[view] }).click();
    await show(answer(view));
    await page.locator('#view[aria-busy="false"]').waitFor();
  };
  return { page, said, tell, show, choose, complaints, requests };
}

/**
 * Keeps what the page wants to do after a delay until the function that is given back is called: a loaded machine may be
 * slower than any delay.
 */
export async function holdDelays(page: Page): Promise<() => Promise<void>> {
  await page.evaluate(() => {
    const held: (() => void)[] = [];
    const soon = window.setTimeout;
    const hold = (task: () => void, delay = 0): number => (delay > 0 ? -held.push(task) : soon(task));
    const release = (): void => {
      window.setTimeout = soon;
      for (const task of held) task();
    };
    Object.assign(window, { setTimeout: hold, release });
  });
  return () => page.evaluate(() => (window as unknown as { release: () => void }).release());
}

/** A text of the page with plain spaces: the page has others between a number and its unit. */
export const withPlainSpaces = (text: string): string => text.replaceAll('\u00a0', ' ');

/** Runs in the page before its own script: the editor's part, and the theme. */
function standIn({ kind, variables }: ThemeVariables): void {
  const said: unknown[] = [];
  const key = 'state';
  Object.assign(window, {
    said,
    acquireVsCodeApi: () => ({
      postMessage: (message: unknown) => said.push(message),
      getState: (): unknown => JSON.parse(sessionStorage.getItem(key) ?? 'null'),
      setState: (state: unknown) => sessionStorage.setItem(key, JSON.stringify(state)),
    }),
  });
  const dress = (): void => {
    const page = document.documentElement as HTMLElement | null;
    for (const [name, value] of Object.entries(variables)) {
      page?.style.setProperty(name, value);
    }
    document.body?.classList.add(kind);
  };
  dress();
  document.addEventListener('DOMContentLoaded', dress);
}
