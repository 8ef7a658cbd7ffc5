import { existsSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileKindOf } from '../../files/fileKind.ts';
import { toFailure } from '../../journal/failure.ts';
import { logNameTaken, newLogText } from '../../logging/newLog.ts';

/**
 * Creates a log in the folder of its route. Returns a sentence where that fails.
 *
 * @param path path of the log
 * @param route path of the route
 */
export function beginLog(path: string, route: string, runner: string | undefined): string | undefined {
  if (existsSync(path)) return logNameTaken(basename(path), basename(route));
  const text = newLogText(fileKindOf(path) === 'runs' ? 'runs' : 'practice', basename(route), runner);
  try {
    writeFileSync(path, text, { flag: 'wx' });
    return undefined;
  } catch (error) {
    return `${basename(path)} cannot be written: ${toFailure(error).reason}.`;
  }
}
