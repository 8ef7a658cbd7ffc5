import { scalarToYaml } from '../files/edit/flowYaml.ts';
import { stemOf } from '../files/fileKind.ts';
import { sanitizeForTerminal } from '../safeText/terminal.ts';

/** The two kinds of log. */
export type LogKind = 'practice' | 'runs';

/**
 * The name of the log that is begun for a route that has none.
 *
 * @param route URI or path of the route
 */
export function newLogName(route: string, kind: LogKind): string {
  return `${stemOf(route)}.${kind}.yaml`;
}

/**
 * The text of a new log in the folder of its route.
 *
 * @param route name of the route's file
 * @param runner whose log it is, where several runners share the route
 */
export function newLogText(kind: LogKind, route: string, runner: string | undefined): string {
  const lines = [`route: ${scalarToYaml(route)}`];
  if (runner !== undefined) lines.push(`runner: ${scalarToYaml(runner)}`);
  return [...lines, kind === 'runs' ? 'runs: []' : 'sessions: []', ''].join('\n');
}

/**
 * The message that a log cannot be begun, since a file with its name exists and is not a log of the route.
 *
 * @param log name of that file
 * @param route name of the route's file
 */
export function logNameTaken(log: string, route: string): string {
  const [file, of] = [log, route].map(sanitizeForTerminal);
  return `${file} exists, but is no log of ${of} and this runner: see its route: and runner: lines.`;
}
