import { fileName } from '../../workspace/fileName.ts';
import { folderOf } from '../../workspace/folderOf.ts';
import type { LogFile } from './gatherFiles.ts';
import type { RunnerTask } from './runnerTask.ts';

/** The names of the files of a route. */
export interface RouteNames {
  /** That of the route itself. */
  readonly route: string;
  /** That, and those of the routes that share techniques with it: practice of them counts, too. */
  readonly family: ReadonlySet<string>;
}

/** The runners in the logs of a route. */
export interface LoggedRunners {
  /** By the URI of their first file. */
  readonly tasks: readonly RunnerTask[];
  /** Logs that name nobody where others name several runners: nobody can say whose they are. */
  readonly nobodys: readonly string[];
}

/**
 * Puts the logs of each runner together. Logs belong together that name the route in the same folder: the same name in another
 * copy of the route may be somebody else, or the same logs once more, which their digest will show.
 *
 * Where nobody is named, all of them are one runner's; where one is, too, since files that name nobody count for that runner.
 */
export function runnersOfLogs(logs: readonly LogFile[], { route, family }: RouteNames): LoggedRunners {
  const copies = new Map<string, LogFile[]>();
  for (const log of logs) {
    const name = fileName(log.route);
    if (log.kind === 'practice' ? !family.has(name) : name !== route) continue;
    const folder = folderOf(log.route);
    const ofCopy = copies.get(folder);
    if (ofCopy === undefined) copies.set(folder, [log]);
    else ofCopy.push(log);
  }
  const tasks: RunnerTask[] = [];
  const nobodys: string[] = [];
  for (const ofCopy of copies.values()) {
    const entries = ofCopy.filter(({ kind }) => kind !== 'week');
    const names = [...new Set(entries.flatMap(({ runner }) => runner ?? []))];
    const shared = names.length < 2;
    for (const runner of names.length === 0 ? [undefined] : names) {
      const files = ofCopy.filter((file) => file.runner === runner || (shared && file.runner === undefined));
      if (files.some(({ kind }) => kind !== 'week'))
        tasks.push({ runner, files: files.map(({ uri, kind }) => ({ uri, kind })) });
    }
    if (!shared) nobodys.push(...entries.filter(({ runner }) => runner === undefined).map(({ uri }) => uri));
  }
  tasks.sort((a, b) => (a.files[0]!.uri < b.files[0]!.uri ? -1 : 1));
  return { tasks, nobodys: nobodys.sort() };
}
