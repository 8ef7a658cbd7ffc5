import type { Locator, Page } from 'playwright-core';
import { installHost } from './install.ts';
import { openSession } from './session.ts';
import type { EditorSettings } from './settings.ts';

/** Options of an editor for a test that uses it as a person does. */
export interface WorkbenchOptions {
  /** The folder of the extension under development; left out where it is installed. */
  readonly extensionPath?: string;
  /** A folder with installed extensions, each in a folder of its own. */
  readonly extensionsDir?: string;
  /** The folder to open. */
  readonly workspace: string;
  /** True where the folder has no file, so that none is waited for. */
  readonly isEmpty?: boolean;
  /** True: the editor asks whether to trust the workspace, which is in Restricted Mode until the answer. */
  readonly keepTrust?: boolean;
  /** The name of a colour theme, for example "Default Light Modern". */
  readonly colorTheme?: string;
  /** In CSS pixels. */
  readonly viewport?: { readonly width: number; readonly height: number };
  /** How much everything is enlarged, as by the browser's zoom; 1 where left out. */
  readonly zoom?: number;
  readonly settings?: EditorSettings;
  /** Environment of the extension. */
  readonly env?: NodeJS.ProcessEnv;
}

/** An open editor. */
export interface Workbench {
  readonly page: Page;
  /** Ends the editor and every process that belongs to it. */
  close(): Promise<void>;
}

const READY_LIMIT_MS = 180_000;
const STEP_LIMIT_MS = 120_000;

/**
 * Opens the editor with the extension, ready to be typed into. The caller closes it, in a `finally`.
 *
 * @throws HostProblem where the editor cannot be installed or started here
 */
export async function openWorkbench(options: WorkbenchOptions): Promise<Workbench> {
  const host = await installHost();
  const theme = options.colorTheme === undefined ? {} : { 'workbench.colorTheme': options.colorTheme };
  const session = await openSession({
    host,
    extensionPaths: options.extensionPath === undefined ? [] : [options.extensionPath],
    workspace: options.workspace,
    trustEverything: options.keepTrust !== true,
    settings: { ...theme, ...options.settings },
    ...(options.viewport === undefined ? {} : { viewport: options.viewport }),
    ...(options.zoom === undefined ? {} : { zoom: options.zoom }),
    ...(options.env === undefined ? {} : { env: options.env }),
    ...(options.extensionsDir === undefined ? {} : { extensionsDir: options.extensionsDir }),
  });
  try {
    if (options.isEmpty === true) await waitForExtensions(session.page);
    else await waitForFiles(session.page);
    return { page: session.page, close: () => session.close() };
  } catch (error) {
    await session.close();
    throw error;
  }
}

/** Waits until the explorer lists the folder's files. */
export async function waitForFiles(page: Page): Promise<void> {
  await page.locator('.monaco-workbench .explorer-folders-view .monaco-list-row').first().waitFor({
    timeout: READY_LIMIT_MS,
  });
}

/** Waits until the editor has read what the extension brings: its icon is there, and the palette knows its commands. */
async function waitForExtensions(page: Page): Promise<void> {
  await page
    .locator('.monaco-workbench .activitybar [aria-label^="Routewright"]')
    .first()
    .waitFor({ timeout: READY_LIMIT_MS });
}

/** The visible rows of the palette, or of any other quick pick. */
export function pickRows(page: Page): Locator {
  return page.locator('.quick-input-widget:visible .quick-input-list .monaco-list-row');
}

/** The text field of the palette, or of any other quick pick or input. */
export function pickInput(page: Page): Locator {
  return page.locator('.quick-input-widget:visible .quick-input-box input');
}

/**
 * Fills the field of a quick pick or an input box and presses Enter. Both go to the field itself, since another
 * element, such as a walkthrough that was drawn again, may have taken the keyboard focus.
 *
 * @param text what to write; where left out, the field's text is accepted
 */
export async function answer(page: Page, text?: string): Promise<void> {
  if (text !== undefined) await pickInput(page).fill(text);
  await pickInput(page).press('Enter');
}

/**
 * Runs a command by its title through the palette. Until the extension has contributed the command, the palette finds
 * nothing, so this waits for the title.
 *
 * @param title with the category where there is one, as the palette shows it: "Category: Title"
 */
export async function runCommand(page: Page, title: string): Promise<void> {
  await page.keyboard.press('F1');
  await pickInput(page).fill(`>${title}`);
  const row = pickRows(page)
    .filter({ has: page.getByText(title, { exact: true }) })
    .first();
  await row.waitFor({ timeout: STEP_LIMIT_MS });
  await row.click();
}

/**
 * Opens a file by its name through quick open and waits until its editor has the keyboard focus.
 *
 * @param name the file's name, or the last part of its path, as it would be typed
 */
export async function openFile(page: Page, name: string): Promise<void> {
  const label = name.split('/').at(-1) ?? name;
  await page.keyboard.press('Control+P');
  await pickInput(page).fill(name);
  // The first row may still be that of another file, so the row with the name is chosen.
  await pickRows(page).filter({ hasText: label }).first().click({ timeout: STEP_LIMIT_MS });
  await waitForKeyboard(page, label);
}

/**
 * Waits until a file is in the active editor and has the keyboard focus. Its tab is active earlier, while the editor
 * below may still show the previous file with the focus.
 *
 * @param name the file's name
 */
export async function waitForKeyboard(page: Page, name: string): Promise<void> {
  await activeTab(page).filter({ hasText: name }).waitFor({ timeout: STEP_LIMIT_MS });
  await keyboardIn(page, `[data-uri$="/${encodeURIComponent(name)}"]`);
}

async function keyboardIn(page: Page, which: string): Promise<void> {
  const editor = `.editor-group-container.active .monaco-editor.focused${which}:has(:focus)`;
  await page.locator(editor).first().waitFor({ timeout: STEP_LIMIT_MS });
}

/** The tab of the active editor. */
export function activeTab(page: Page): Locator {
  return page.locator('.editor-group-container.active .tab.active');
}

/** Moves the cursor to a place in the active editor; line and column from 1, as the editor shows them. */
export async function goTo(page: Page, line: number, column = 1): Promise<void> {
  await page.keyboard.press('Control+G');
  await answer(page, `:${line}:${column}`);
  await page.locator('.quick-input-widget:visible').waitFor({ state: 'hidden', timeout: STEP_LIMIT_MS });
  await keyboardIn(page, '');
}

/**
 * Checks a condition again and again until it holds or the time limit has passed. Does not report which; the caller
 * asserts the condition.
 *
 * @param limit milliseconds
 */
export async function until(
  page: Page,
  isSo: () => Promise<boolean> | boolean,
  limit = STEP_LIMIT_MS,
): Promise<void> {
  const end = Date.now() + limit;
  while (!(await isSo()) && Date.now() < end) await page.waitForTimeout(50);
}

/** Takes a picture of the whole window as a PNG file, with animations stopped and the text cursor hidden. */
export async function screenshot(page: Page, file: string): Promise<void> {
  await page.screenshot({ path: file, animations: 'disabled', caret: 'hide' });
}
