import { createHash } from 'node:crypto';
import { realpathSync } from 'node:fs';
import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The folder in which the system wants programs to keep what must outlive them: `XDG_STATE_HOME` (XDG Base Directory
 * Specification 0.8) or `~/.local/state`, `%LOCALAPPDATA%` on Windows, `~/Library/Application Support` on macOS.
 * `ROUTEWRIGHT_STATE_HOME` overrides all of them.
 */
export function stateFolder(env: Environment, platform: NodeJS.Platform, home = homedir()): string {
  return join(stateHome(env, platform, home), 'routewright');
}

function stateHome(env: Environment, platform: NodeJS.Platform, home: string): string {
  const own = env.ROUTEWRIGHT_STATE_HOME;
  if (own !== undefined && isAbsolute(own)) return own;
  if (platform === 'win32') return env.LOCALAPPDATA ?? join(home, 'AppData', 'Local');
  if (platform === 'darwin') return join(home, 'Library', 'Application Support');
  const { XDG_STATE_HOME: xdg } = env;
  // The specification: a path that is not absolute is to be ignored.
  return xdg !== undefined && isAbsolute(xdg) ? xdg : join(home, '.local', 'state');
}

/** The path that a file has once every link is followed. Throws what the system says where there is none. */
export function realPath(path: string): string {
  return realpathSync.native(path);
}

/** The folder of a log file's journal. */
export function journalFolder(state: string, real: string): string {
  return join(state, 'journal', shortHash(real));
}

/** A short hash that can stand in a file name. */
export function shortHash(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 24);
}
