import { cpus, loadavg } from 'node:os';
import { row, tableOf } from '../table.ts';
import { bareWindow, builtInWindow, ownWindow, type Measured, type WindowTimes } from './windows.ts';

const bare = 'the same editor and file without the extension';
const json = 'the editor’s own JSON support, a mistake';
const symbols = 'the editor’s own list of the symbols of a JSON file';
const preview = 'the editor’s own Markdown preview';

/**
 * Measures the extension in the real editor and what the editor itself brings, each in a window of its own, by turns;
 * gives the text that stands above the table, and the table.
 *
 * @param rounds windows of each kind
 * @param progress gets a text before each window
 */
export async function editorTable(rounds: number, progress: (what: string) => void): Promise<string> {
  const load = loadavg()[0]!.toFixed(1);
  const windows: Record<'bare' | 'own' | 'builtIn', WindowTimes[]> = { bare: [], own: [], builtIn: [] };
  const kinds = { bare: bareWindow, own: ownWindow, builtIn: builtInWindow };
  for (let round = 0; round < rounds; round += 1)
    for (const kind of Object.keys(kinds) as (keyof typeof kinds)[]) {
      progress(`${kind}, window ${round + 1} of ${rounds}`);
      windows[kind].push(await kinds[kind]());
    }
  const of = (kind: keyof typeof windows, what: Measured): number[] =>
    windows[kind].flatMap((times) => times[what] ?? []);
  const line = (
    what: string,
    own: Measured,
    other: string,
    kind: 'bare' | 'builtIn',
    theirs: Measured,
  ): ReturnType<typeof row> => row(what, 'ms', of('own', own), other, of(kind, theirs));
  const rows = [
    line('Window opened until the text of the route is shown', 'text', bare, 'bare', 'text'),
    line('… from there until a mistake is marked', 'mark', json, 'builtIn', 'mark'),
    line('… until the lines above segments are shown', 'lines', json, 'builtIn', 'mark'),
    line('Rank Next Skill, from the key to its list', 'list', symbols, 'builtIn', 'list'),
    line('… asked again', 'listAgain', symbols, 'builtIn', 'list'),
    line('Preview Week, from the key to its first content', 'paint', preview, 'builtIn', 'paint'),
    line('… to all its numbers', 'settled', preview, 'builtIn', 'paint'),
    line('A letter of a name, from the key to the panel', 'wordKey', preview, 'builtIn', 'wordKey'),
    line('… a digit of a number that the model uses', 'numberKey', preview, 'builtIn', 'wordKey'),
  ];
  const head = [
    `Medians [5 % to 95 %] of ${rounds} windows of each kind, by turns, on ${cpus().length} cores; load average at the`,
    `start ${load}. A load above the number of cores makes every time longer; then only the ratios say something.`,
  ].join('\n');
  return `${head}\n\n${tableOf(rows)}`;
}
