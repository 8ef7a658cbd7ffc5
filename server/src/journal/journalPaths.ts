import { createHash } from 'node:crypto';
import { realpathSync } from 'node:fs';
import { join } from 'node:path';
import { personFolder, type Environment } from '../disk/personFolders.ts';

/** The folder of all journals and what belongs to them. */
export function stateFolder(env: Environment, platform: NodeJS.Platform, home?: string): string {
  return personFolder('state', env, platform, home);
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
