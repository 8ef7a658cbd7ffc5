import { readFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { isAbsolute, join, resolve } from 'node:path';
import { codeOf } from '../../disk/errorCode.ts';
import { systemReason } from '../../disk/systemReason.ts';
import { parseYaml } from '../../files/yaml/parseYaml.ts';
import { toValue } from '../../files/yaml/value.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The file of the person's own settings: in `XDG_CONFIG_HOME` (XDG Base Directory Specification 0.8) or `~/.config`,
 * in `%APPDATA%` on Windows and `~/Library/Application Support` on macOS.
 */
export function settingsFile(env: Environment, platform: NodeJS.Platform, home = homedir()): string {
  return join(configHome(env, platform, home), 'routewright', 'settings.yaml');
}

function configHome(env: Environment, platform: NodeJS.Platform, home: string): string {
  const { XDG_CONFIG_HOME: xdg, APPDATA: appData } = env;
  // The specification: a path that is not absolute is to be ignored.
  if (xdg !== undefined && isAbsolute(xdg)) return xdg;
  if (platform === 'win32') return appData ?? join(home, 'AppData', 'Roaming');
  return platform === 'darwin' ? join(home, 'Library', 'Application Support') : join(home, '.config');
}

/**
 * The log, route or folder that entries go into from folders without a route: `log:` of the settings, as an absolute path. A
 * path in it that is not absolute begins at the settings' folder, or at the home folder after `~/`.
 *
 * @returns undefined where there are no settings or they name none; an error where they cannot be read as such
 */
export async function logOfSettings(file: string, home = homedir()): Promise<string | CliError | undefined> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    return cliError(`${file} cannot be read: ${systemReason(error)}.`);
  }
  const { tree, problems } = parseYaml(text);
  const settings = toValue(tree);
  const form = 'It holds one line: log: /path/to/a.practice.yaml';
  if (settings === null || settings === undefined) return undefined;
  if (problems.length > 0 || typeof settings !== 'object' || Array.isArray(settings))
    return cliError(`${file} cannot be read as settings. ${form}`);
  const other = Object.keys(settings).find((key) => key !== 'log');
  if (other !== undefined) return cliError(`${file} has a key that means nothing: ${other}. ${form}`);
  const { log } = settings as { readonly log?: unknown };
  if (log === undefined) return undefined;
  if (typeof log !== 'string' || log === '')
    return cliError(`${file}: log is not the path of a file. ${form}`);
  return log.startsWith('~/') ? join(home, log.slice(2)) : resolve(file, '..', log);
}
