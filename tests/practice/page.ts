import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import type { Page } from 'playwright-core';
import { practicePage } from '../../client/src/practice/practicePage.ts';
import { pageHtml, type Page as ExtensionPage } from '../../client/src/webview/page.ts';
import { defaultBindings, practiceVersion } from '../../server/src/protocol/practice/bindings.ts';
import type { LoggedAttempt, PracticeData } from '../../server/src/protocol/practice/blockView.ts';
import {
  practiceViewMessageShape,
  type PracticeEditorMessage,
  type PracticeViewMessage,
} from '../../server/src/protocol/practice/pageMessages.ts';
import type { Started } from '../panel/page.ts';

const root = join(import.meta.dirname, '../..');
const origin = 'http://practice.test';

export const themes = ['light', 'dark', 'high-contrast', 'high-contrast-light'] as const;
export type Theme = (typeof themes)[number];

interface ThemeVariables {
  readonly kind: string;
  readonly variables: Readonly<Record<string, string>>;
}

/** The theme variables that were read off the real editor for its other page. */
const themeVariables = JSON.parse(
  readFileSync(join(root, 'tests/panel/fixtures/themes.json'), 'utf8'),
) as Readonly<Record<Theme, ThemeVariables>>;

export interface Bundled {
  readonly script: string;
  readonly style: string;
}

/** A page's script and style, bundled as for the editor. */
export async function bundlePage(scriptEntry: string, styleEntry: string): Promise<Bundled> {
  const bundle = async (entry: string): Promise<string> => {
    const { outputFiles } = await build({
      entryPoints: [join(root, entry)],
      bundle: true,
      write: false,
      format: 'iife',
      platform: 'browser',
      target: 'es2022',
    });
    return outputFiles[0]?.text ?? '';
  };
  return { script: await bundle(scriptEntry), style: await bundle(styleEntry) };
}

/** The script and the style of the view of a block. */
export const bundlePractice = (): Promise<Bundled> =>
  bundlePage('client/practice/main.ts', 'client/practice/practice.css');

/** Attempts as a tape, so many seconds apart, the last one just now. */
export function attemptsOf(tape: string, apart: number, now = Date.now()): LoggedAttempt[] {
  return [...tape].map((letter, index) => ({
    at: now - (tape.length - 1 - index) * apart * 1000,
    landed: letter === 'l',
  }));
}

/** A block of 25 minutes that began so many minutes ago. */
export function blockData(over: Partial<PracticeData> = {}, begun = 10): PracticeData {
  const now = Date.now();
  const began = now - begun * 60_000;
  return {
    version: practiceVersion,
    phase: 'block',
    route: 'Lanternfall, any%',
    name: 'Crate vault',
    from: 'quay, left of the crates',
    cycle: 5,
    now,
    began,
    ends: began + 25 * 60_000,
    restEnds: null,
    pausedAt: null,
    usual: '41 %',
    standing: 'being learned',
    after: null,
    notes: '',
    links: [],
    timeUp: false,
    sound: false,
    large: false,
    unsaved: false,
    attempts: [],
    said: '',
    promise: 'Every attempt is kept at once, even if the editor crashes.',
    caution: null,
    slow: null,
    next: null,
    planning: false,
    bindings: defaultBindings,
    ...over,
  };
}

/** A page of the extension by itself, with a stand-in for the editor around it. */
export interface OpenPage {
  readonly page: Page;
  /** Everything the page said so far. */
  readonly said: () => Promise<unknown[]>;
  readonly tell: (message: unknown) => Promise<void>;
  /** What the browser refused to load or to obey, and errors of the script. */
  readonly complaints: readonly string[];
}

export interface PageOptions {
  readonly theme?: Theme;
  readonly width?: number;
  readonly height?: number;
}

/** Opens a page of the extension with a stand-in for the editor around it. */
export async function openPage(
  { browser, bundled: { script, style } }: Started<Bundled>,
  shown: ExtensionPage,
  { theme = 'light', width = 640, height = 800 }: PageOptions = {},
): Promise<OpenPage> {
  const page = await browser.newPage({ viewport: { width, height } });
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  const html = pageHtml(shown, {
    script: `${origin}/page.js`,
    style: `${origin}/page.css`,
    source: origin,
    nonce: 'c0ffee',
  });
  await page.route('**/*', (route) => {
    const { pathname } = new URL(route.request().url());
    if (pathname === '/') return route.fulfill({ contentType: 'text/html', body: html });
    if (pathname === '/page.js') return route.fulfill({ contentType: 'text/javascript', body: script });
    if (pathname === '/page.css') return route.fulfill({ contentType: 'text/css', body: style });
    return route.abort();
  });
  await page.addInitScript(standIn, themeVariables[theme]);
  await page.goto(`${origin}/`);
  const tell = async (message: unknown): Promise<void> => {
    await page.evaluate((sent) => window.postMessage(sent, '*'), message);
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 0)));
  };
  const said = (): Promise<unknown[]> => page.evaluate(() => (window as unknown as { said: unknown[] }).said);
  return { page, said, tell, complaints };
}

export interface OpenView extends OpenPage {
  readonly said: () => Promise<PracticeViewMessage[]>;
  readonly pressed: () => Promise<string[]>;
  readonly show: (data: PracticeData) => Promise<void>;
}

/** Opens the view of a block. */
export async function openView(started: Started<Bundled>, options: PageOptions = {}): Promise<OpenView> {
  const opened = await openPage(started, practicePage, options);
  const show = (data: PracticeData): Promise<void> => {
    const message: PracticeEditorMessage = { type: 'show', data };
    return opened.tell(message);
  };
  const said = async (): Promise<PracticeViewMessage[]> =>
    (await opened.said()).filter((message) => practiceViewMessageShape.fits(message));
  const pressed = async (): Promise<string[]> =>
    (await said()).flatMap((message) => (message.type === 'press' ? [message.action] : []));
  return { ...opened, said, pressed, show };
}

/** Runs in the page before its own script: the editor's part, what it would hear of keys, and the theme. */
function standIn({ kind, variables }: ThemeVariables): void {
  const said: unknown[] = [];
  const heard: string[] = [];
  Object.assign(window, {
    said,
    heard,
    acquireVsCodeApi: () => ({
      postMessage: (message: unknown) => said.push(message),
      setState: (state: unknown) => Object.assign(window, { state }),
    }),
  });
  // The editor listens to the window of a page for keys that it has commands for.
  for (const type of ['keydown', 'keyup'] as const) {
    window.addEventListener(type, (event) => heard.push(`${type} ${event.code}`));
  }
  const dress = (): void => {
    const page = document.documentElement as HTMLElement | null;
    for (const [name, value] of Object.entries(variables)) page?.style.setProperty(name, value);
    document.body?.classList.add(kind);
  };
  dress();
  document.addEventListener('DOMContentLoaded', dress);
}
