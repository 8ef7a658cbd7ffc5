import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Settings of the editor by their full name. */
export type EditorSettings = Readonly<Record<string, unknown>>;

/**
 * The settings of every session: the editor saves, fetches, reports and shows nothing unless a test asks for it. Unlike
 * the desktop program, this host saves files automatically by default.
 */
export const QUIET: EditorSettings = {
  'files.autoSave': 'off',
  'telemetry.telemetryLevel': 'off',
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.enableExperiments': false,
  'update.mode': 'none',
  'extensions.autoUpdate': false,
  'extensions.autoCheckUpdates': false,
  'extensions.ignoreRecommendations': true,
  'git.autofetch': false,
  'git.openRepositoryInParentFolders': 'never',
  'chat.commandCenter.enabled': false,
  'chat.disableAIFeatures': true,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
};

/**
 * Writes the user's settings where the host's server reads them. Settings already in User/settings.json of
 * the folder, which is where the desktop program reads them, are kept; `own` wins over both.
 *
 * @param dataDir the server's data folder
 */
export async function writeSettings(dataDir: string, own: EditorSettings): Promise<void> {
  const folder = join(dataDir, 'data', 'User');
  await mkdir(folder, { recursive: true });
  const settings = { ...QUIET, ...(await readSettings(join(dataDir, 'User', 'settings.json'))), ...own };
  await writeFile(join(folder, 'settings.json'), `${JSON.stringify(settings, null, 2)}\n`);
}

async function readSettings(file: string): Promise<EditorSettings> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch {
    return {};
  }
  const settings: unknown = JSON.parse(text);
  return typeof settings === 'object' && settings !== null ? { ...settings } : {};
}
