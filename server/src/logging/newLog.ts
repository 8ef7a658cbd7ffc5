import { scalarToYaml } from '../files/edit/flowYaml.ts';
import { sanitizeForTerminal } from '../safeText/terminal.ts';

/** The two kinds of log. */
export type LogKind = 'practice' | 'runs';

/**
 * The text of a new log.
 *
 * @param route path of the route's file, as it is written in the log
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
