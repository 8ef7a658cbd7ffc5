import { Utils, URI } from 'vscode-uri';
import { scalarToYaml } from '../files/edit/flowYaml.ts';
import { stemOf } from '../files/fileKind.ts';
import { sanitizeForTerminal } from '../text/terminalText.ts';

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
 * The text of a log that is begun beside its route.
 *
 * @param route URI of the route
 * @param runner whose log it is, where several runners share the route
 */
export function newLogText(kind: LogKind, route: string, runner: string | undefined): string {
  const lines = [`route: ${scalarToYaml(baseName(route))}`];
  if (runner !== undefined) lines.push(`runner: ${scalarToYaml(runner)}`);
  return [...lines, kind === 'runs' ? 'runs: []' : 'sessions: []', ''].join('\n');
}

/**
 * Says that a file which is no log of the route has the name of the log that is to be begun.
 *
 * @param log URI of that file
 */
export function logNameTaken(log: string, route: string): string {
  const [file, of] = [log, route].map((uri) => sanitizeForTerminal(baseName(uri)));
  return `${file} exists, but is no log of ${of} and this runner: see its route: and runner: lines.`;
}

function baseName(uri: string): string {
  return Utils.basename(URI.parse(uri));
}
