import { existsSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { relativePath } from '../../workspace/relativePath.ts';
import { fileKindOf } from '../../files/fileKind.ts';
import { toFailure } from '../../journal/failure.ts';
import { logNameTaken, newLogText } from '../../logging/newLog.ts';
import { uriOf } from '../terminal/paths.ts';

/**
 * Creates a log. Returns a sentence where that fails.
 *
 * @param path path of the log
 * @param route path of the route
 */
export function beginLog(path: string, route: string, runner: string | undefined): string | undefined {
  if (existsSync(path)) return logNameTaken(basename(path), basename(route));
  const written = relativePath(uriOf(path), uriOf(route));
  const text = newLogText(fileKindOf(path) === 'runs' ? 'runs' : 'practice', written, runner);
  try {
    writeFileSync(path, text, { flag: 'wx' });
    return undefined;
  } catch (error) {
    return `${basename(path)} cannot be written: ${toFailure(error).reason}.`;
  }
}
