/** Model inputs from files given as texts, and a check of every number in a result. */
import { answerDayOf } from '../../server/src/queries/answerDay.ts';
import { buildWeekInput } from '../../server/src/queries/weekInput.ts';
import { memoryFileSource } from '../../server/src/workspace/fileSource.ts';
import { runnerFilesOrAll } from '../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../server/src/workspace/workspace.ts';
import { lastDay } from './lastDay.ts';

const folder = 'file:///w';

/**
 * The project of the only route among these files (texts by name), its runner files, and the planner's input for one
 * week.
 */
export async function weekInputOf(files: Readonly<Record<string, string>>) {
  const entries = Object.entries(files).map(([name, text]) => [`${folder}/${name}`, text] as const);
  const workspace = new Workspace(memoryFileSource(Object.fromEntries(entries)), [folder]);
  await workspace.load();
  const [project] = workspace.groups().projects;
  if (project === undefined) throw new Error('These files have no route.');
  const { own } = runnerFilesOrAll(project);
  return {
    project,
    own,
    weekInput: buildWeekInput(project, own, 1, { asOf: answerDayOf(own, lastDay).day }),
  };
}

/** Places in a result with a number that is not finite, such as `rows.0.gain`. */
export function notFinite(value: unknown, place = ''): string[] {
  const inside = (entries: Iterable<readonly [unknown, unknown]>): string[] =>
    [...entries].flatMap(([key, inner]) =>
      notFinite(inner, place === '' ? String(key) : `${place}.${String(key)}`),
    );
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [place];
  if (value instanceof Map) return inside(value as Map<unknown, unknown>);
  if (Array.isArray(value)) return inside(value.entries());
  if (typeof value === 'object' && value !== null) return inside(Object.entries(value));
  return [];
}
