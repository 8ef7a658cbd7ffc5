import { URI } from 'vscode-uri';

/**
 * The path from a file to another one, as a `route:` line has it: with `/` between its parts.
 *
 * @param from URI of the file that the path is written in
 * @param to URI of the other file, on the same disk
 * @example
 * relativePath('file:///r/runners/ada/a.week.yaml', 'file:///r/a.route.yaml') // '../../a.route.yaml'
 */
export function relativePath(from: string, to: string): string {
  const steps = URI.parse(from).path.split('/').slice(0, -1);
  const target = URI.parse(to).path.split('/');
  let common = 0;
  while (common < steps.length && steps[common] === target[common]) common++;
  return [...steps.slice(common).map(() => '..'), ...target.slice(common)].join('/');
}
