import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Locator, Page } from 'playwright-core';
import { openWorkbench } from '../host/workbench.ts';
import type { WorkbenchOptions } from '../host/workbench.ts';
import { copyData, writeFiles } from '../stage.ts';
import { TODAY } from '../suite/support/commandLine.ts';

/** The folder of the project, which is also that of the extension. */
export const ROOT = fileURLToPath(new URL('../../..', import.meta.url));

/** The editor with a copy of the sample. */
export interface OpenSample {
  readonly page: Page;
  /** The folder of the copy. */
  readonly folder: string;
  /** Ends the editor and removes the copy. */
  close(): Promise<void>;
}

/** Options of an opened sample. */
export interface SampleOptions extends Partial<Omit<WorkbenchOptions, 'extensionPath' | 'workspace'>> {
  /** Further files, or other texts for files of the sample, by their paths. */
  readonly files?: Readonly<Record<string, string>>;
  /** True where `extensionsDir` contains the extension. */
  readonly installed?: boolean;
}

/** Opens the editor on a copy of the sample, with a fixed date on which its logs are three days old. */
export async function openSample({
  files = {},
  installed = false,
  settings,
  ...options
}: SampleOptions = {}): Promise<OpenSample> {
  const temporary = await mkdtemp(join(tmpdir(), 'editor-person-'));
  const remove = (): Promise<void> => rm(temporary, { recursive: true, force: true, maxRetries: 5 });
  const folder = join(temporary, 'lanternfall');
  try {
    await copyData(join(ROOT, 'samples'), folder);
    await writeFiles(folder, files);
    const workbench = await openWorkbench({
      ...options,
      ...(installed ? {} : { extensionPath: ROOT }),
      workspace: folder,
      settings: { 'routewright.today': TODAY, ...settings },
    });
    return { page: workbench.page, folder, close: () => workbench.close().finally(remove) };
  } catch (error) {
    await remove();
    throw error;
  }
}

/** The extension's item in the status bar. */
export function statusItem(page: Page): Locator {
  return page.locator('.statusbar-item[id$="routewright.route"]');
}

/** The messages shown in the corner of the window. */
export function messages(page: Page): Locator {
  return page.locator('.notifications-toasts .notification-list-item');
}

/** A line of the active editor, by a part of its text. */
export function lineWith(page: Page, text: string): Locator {
  return page
    .locator('.editor-group-container.active .view-line')
    .filter({ hasText: new RegExp(text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&').replaceAll(' ', '\\s')) });
}
