import { parseMoment } from '../server/src/text/calendar.ts';
import { checkSelection } from '../server/src/cli/checking/findings.ts';
import type { Finding } from '../server/src/rules/engine/findings.ts';
import { memoryFileSource } from '../server/src/workspace/fileSource.ts';
import { Workspace } from '../server/src/workspace/workspace.ts';

const folder = 'file:///example';

/** No example without a date of its own holds a later entry. */
const exampleNow = { date: parseMoment('2026-12-31')!.date, minute: undefined };

/** All that `check` finds in files of one folder, texts by name; the model's estimates included. */
export async function findingsIn(
  files: Readonly<Record<string, string>>,
  today?: string,
): Promise<readonly Finding[]> {
  const workspace = await workspaceWith(files);
  const { projects, strays } = workspace.groups();
  const selection = { projects, strays, files: workspace.all() };
  const day = { now: exampleNow, asked: today === undefined ? 'last' : parseMoment(today)!.date } as const;
  return checkSelection(workspace, selection, { day, runner: undefined, forecast: true }).findings;
}

/** A workspace of files in memory. */
export async function workspaceWith(files: Readonly<Record<string, string>>): Promise<Workspace> {
  const named = Object.entries(files).map(([name, text]) => [uriOf(name), text]);
  const workspace = new Workspace(memoryFileSource(Object.fromEntries(named) as Record<string, string>), [
    folder,
  ]);
  await workspace.load();
  return workspace;
}

/** URI of a file of that folder. */
export function uriOf(name: string): string {
  return `${folder}/${name}`;
}
