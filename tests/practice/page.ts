import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import type { Page } from 'playwright-core';
import { practicePage } from '../../client/src/practice/practicePage.ts';
import { pageHtml } from '../../client/src/webview/page.ts';
import { defaultBindings, practiceVersion } from '../../server/src/protocol/practice/bindings.ts';
import type { LoggedAttempt, PracticeData } from '../../server/src/protocol/practice/blockView.ts';
import type {
  PracticeEditorMessage,
  PracticeViewMessage,
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

/** The view's script and style, bundled as for the editor. */
export async function bundlePractice(): Promise<Bundled> {
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
  return {
    script: await bundle('client/practice/main.ts'),
    style: await bundle('client/practice/practice.css'),
  };
}

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
    attempts: [],
    said: '',
    promise: 'An attempt is in the journal as soon as it is counted.',
    caution: null,
    slow: null,
    next: null,
    planning: false,
    bindings: defaultBindings,
    ...over,
  };
}

export interface OpenView {
  readonly page: Page;
  /** Everything the view said so far. */
  readonly said: () => Promise<PracticeViewMessage[]>;
  readonly pressed: () => Promise<string[]>;
  readonly tell: (message: unknown) => Promise<void>;
  readonly show: (data: PracticeData) => Promise<void>;
  /** What the browser refused to load or to obey, and errors of the script. */
  readonly complaints: readonly string[];
}

/** Opens the view in a page of its own, with a stand-in for the editor around it. */
export async function openView(
  { browser, bundled: { script, style } }: Started<Bundled>,
  options: { readonly theme?: Theme; readonly width?: number; readonly height?: number } = {},
): Promise<OpenView> {
  const { theme = 'light', width = 640, height = 800 } = options;
  const page = await browser.newPage({ viewport: { width, height } });
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  const html = pageHtml(practicePage, {
    script: `${origin}/practice.js`,
    style: `${origin}/practice.css`,
    source: origin,
    nonce: 'c0ffee',
  });
  await page.route('**/*', (route) => {
    const { pathname } = new URL(route.request().url());
    if (pathname === '/') return route.fulfill({ contentType: 'text/html', body: html });
    if (pathname === '/practice.js') return route.fulfill({ contentType: 'text/javascript', body: script });
    if (pathname === '/practice.css') return route.fulfill({ contentType: 'text/css', body: style });
    return route.abort();
  });
  await page.addInitScript(standIn, themeVariables[theme]);
  await page.goto(`${origin}/`);
  const tell = async (message: unknown): Promise<void> => {
    await page.evaluate((sent) => window.postMessage(sent, '*'), message);
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 0)));
  };
  const show = (data: PracticeData): Promise<void> => {
    const message: PracticeEditorMessage = { type: 'show', data };
    return tell(message);
  };
  const said = (): Promise<PracticeViewMessage[]> =>
    page.evaluate(() => (window as unknown as { said: PracticeViewMessage[] }).said);
  const pressed = async (): Promise<string[]> =>
    (await said()).flatMap((message) => (message.type === 'press' ? [message.action] : []));
  return { page, said, pressed, tell, show, complaints };
}

/** Runs in the page before its own script: the editor's part, what it would hear of keys, and the theme. */
function standIn({ kind, variables }: ThemeVariables): void {
  const said: unknown[] = [];
  const heard: string[] = [];
  Object.assign(window, {
    said,
    heard,
    acquireVsCodeApi: () => ({ postMessage: (message: unknown) => said.push(message) }),
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
