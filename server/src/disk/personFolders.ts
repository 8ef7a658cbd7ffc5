import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';

export type Environment = Readonly<Record<string, string | undefined>>;

/** What must outlive a program, and what it can make again: where the system wants each. */
const places = {
  state: {
    own: 'ROUTEWRIGHT_STATE_HOME',
    xdg: 'XDG_STATE_HOME',
    linux: '.local/state',
    mac: 'Application Support',
  },
  cache: { own: 'ROUTEWRIGHT_CACHE_HOME', xdg: 'XDG_CACHE_HOME', linux: '.cache', mac: 'Caches' },
} as const;

/**
 * Our folder in the one in which the system wants programs to keep what must outlive them (`state`), or what they can make
 * again (`cache`): `XDG_STATE_HOME` or `XDG_CACHE_HOME` (XDG Base Directory Specification 0.8), else `~/.local/state` or
 * `~/.cache`; `%LOCALAPPDATA%` on Windows; `~/Library/Application Support` or `~/Library/Caches` on macOS.
 * `ROUTEWRIGHT_STATE_HOME` and `ROUTEWRIGHT_CACHE_HOME` override all of them.
 */
export function personFolder(
  kind: keyof typeof places,
  env: Environment,
  platform: NodeJS.Platform,
  home = homedir(),
): string {
  return join(homeOf(kind, env, platform, home), 'routewright');
}

function homeOf(
  kind: keyof typeof places,
  env: Environment,
  platform: NodeJS.Platform,
  home: string,
): string {
  const { own, xdg, linux, mac } = places[kind];
  // The specification: a path that is not absolute is to be ignored.
  const absolute = (name: string): string | undefined => {
    const path = env[name];
    return path !== undefined && isAbsolute(path) ? path : undefined;
  };
  const chosen = absolute(own);
  if (chosen !== undefined) return chosen;
  if (platform === 'win32') return env.LOCALAPPDATA ?? join(home, 'AppData', 'Local');
  if (platform === 'darwin') return join(home, 'Library', mac);
  return absolute(xdg) ?? join(home, linux);
}
