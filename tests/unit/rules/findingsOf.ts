import {
  checkProject,
  readingFindings,
  sortFindings,
  strayFindings,
} from '../../../server/src/rules/checkProject.ts';
import type { Finding } from '../../../server/src/rules/engine/findings.ts';
import type { RuleContext } from '../../../server/src/rules/engine/rule.ts';
import { answerDayOf } from '../../../server/src/queries/answerDay.ts';
import { parseMoment } from '../../../server/src/text/calendar.ts';
import { memoryFileSource } from '../../../server/src/workspace/fileSource.ts';
import { runnerFilesOf } from '../../../server/src/workspace/runnerFiles.ts';
import { Workspace } from '../../../server/src/workspace/workspace.ts';
import { afterAllLogs } from '../../helpers/lastDay.ts';

/** The folder that the files of such a test lie in. */
export const folder = 'file:///w';

/** Texts by file name. `⟦` and `⟧` mark where a finding is expected and are no part of the text. */
export type Files = Readonly<Record<string, string>>;

export interface Options {
  /** `2026-10-05`; left out: the day after the last log entry. */
  readonly today?: string;
  readonly runner?: string;
}

/** All findings of a folder with these files, but for forecasts: those of each file, of strays and of projects. */
export async function findingsOf(files: Files, options: Options = {}): Promise<Finding[]> {
  const workspace = await workspaceOf(files);
  const readings = (uri: string) => workspace.file(uri)?.reading;
  const { projects, strays } = workspace.groups();
  return sortFindings([
    ...workspace.all().flatMap(readingFindings),
    ...strayFindings(strays, readings),
    ...projects.flatMap((project) => checkProject(contextOf(project, options), readings)),
  ]);
}

export async function workspaceOf(files: Files): Promise<Workspace> {
  const source = Object.fromEntries(Object.entries(files).map(([name, text]) => [`${folder}/${name}`, text]));
  const workspace = new Workspace(memoryFileSource(source), [folder]);
  await workspace.load();
  return workspace;
}

export function contextOf(project: RuleContext['project'], { today, runner }: Options = {}): RuleContext {
  const own = runnerFilesOf(project, runner);
  const files =
    'runners' in own
      ? { runner: undefined, practice: project.practice, runs: project.runs, week: undefined }
      : own;
  return {
    project,
    own: files,
    today: answerDayOf(files, {
      now: afterAllLogs,
      asked: today === undefined ? 'last' : parseMoment(today)!.date,
    }).day,
  };
}
