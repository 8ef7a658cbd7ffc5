import { LogDocumentBuilder } from '../../files/documents/logDocuments.ts';
import { buildWeekDocument } from '../../files/documents/weekDocument.ts';
import { readSource } from '../../files/reading/reading.ts';
import { isUnread, unreadProblem } from '../../files/reading/unread.ts';
import { ModelCache } from '../../model/core/modelCache.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { lastLoggedDay } from '../../queries/modelLogs.ts';
import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { poolContribution } from '../../queries/poolContribution.ts';
import { type FileSource, memoryFileSource } from '../../workspace/fileSource.ts';
import { nodeFileSource } from '../../workspace/nodeFileSource.ts';
import type { PracticeFile, Project, RunsFile, WeekFile } from '../../workspace/project.ts';
import { type RunnerFiles, runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { Workspace } from '../../workspace/workspace.ts';
import type { CountingRoute, RunnerCount, RunnerTask, UnreadFile } from './runnerTask.ts';

/** Runners' files, read for one of them. */
interface ReadFiles {
  readonly project: Project;
  readonly own: RunnerFiles;
  readonly unread: readonly UnreadFile[];
  readonly errors: number;
}

/**
 * Counts runners one after the other. Of each only the numbers are kept, so that it takes the memory of one, however many
 * there are. What is the same for all is worked out once: the route, and the curves of the model.
 */
export class RunnerCounter {
  private readonly source: FileSource;
  private readonly logs = new LogDocumentBuilder();
  private texts: CountingRoute['texts'] | undefined;
  private project: Project | undefined;
  private cache = new ModelCache();

  constructor(source: FileSource = nodeFileSource()) {
    this.source = source;
  }

  /** What each runner adds, in the order of the tasks. */
  async count(tasks: readonly RunnerTask[], route: CountingRoute): Promise<RunnerCount[]> {
    const counts: RunnerCount[] = [];
    for (const task of tasks) counts.push(await this.countOne(task, route));
    return counts;
  }

  /** The last day on which each runner logged anything, by number. */
  async lastDays(
    tasks: readonly RunnerTask[],
    route: CountingRoute,
  ): Promise<{ readonly day: number | undefined }[]> {
    const days: { day: number | undefined }[] = [];
    for (const task of tasks) {
      const { own } = await this.read(task, route);
      days.push({ day: lastLoggedDay(own, dayStartsOf(own), route.asOf) });
    }
    return days;
  }

  private async countOne(task: RunnerTask, route: CountingRoute): Promise<RunnerCount> {
    const { project, own, unread, errors } = await this.read(task, route);
    const entries =
      sum(own.practice, ({ document }) => sum(document.sessions, ({ blocks }) => blocks.length)) +
      sum(own.runs, ({ document }) => document.runs.length);
    const lastDay = lastLoggedDay(own, dayStartsOf(own), route.asOf);
    const counted = { entries, lastDay, unread, errors };
    if (unread.length > 0) return counted;
    const tooLarge = tooLargeMessage(project);
    if (tooLarge !== undefined) return { ...counted, tooLarge };
    const contribution = poolContribution(project, own, route.asOf, this.cache);
    return contribution === undefined ? counted : { ...counted, contribution };
  }

  private async read({ runner, files }: RunnerTask, route: CountingRoute): Promise<ReadFiles> {
    const base = this.projectOf(route);
    const practice: PracticeFile[] = [];
    const runs: RunsFile[] = [];
    const weeks: WeekFile[] = [];
    const unread: UnreadFile[] = [];
    let errors = 0;
    for (const { uri, kind } of files) {
      const text = await this.source.read(uri, route.within);
      // A file that was removed since it was listed adds nothing.
      if (text === undefined) continue;
      if (isUnread(text)) {
        unread.push({ uri, message: unreadProblem(text).message });
        continue;
      }
      const reading = readSource(kind, text);
      errors += reading.problems.length;
      if (kind === 'practice') practice.push({ uri, reading, document: this.logs.practice(reading) });
      else if (kind === 'runs') runs.push({ uri, reading, document: this.logs.runs(reading) });
      else weeks.push({ uri, reading, document: buildWeekDocument(reading) });
    }
    const project: Project = { ...base, practice, runs, weeks, pools: [] };
    const own = runnerFilesOf(project, runner);
    // A file that got another name in it since it was listed: nobody can say whose it is.
    if ('runners' in own)
      return { project, own: { runner, practice: [], runs: [], week: undefined }, unread, errors };
    return { project, own, unread, errors };
  }

  /** The route as a project without logs; made again where another one is asked for. */
  private projectOf({ route, texts }: CountingRoute): Project {
    if (this.project === undefined || !sameTexts(this.texts, texts) || this.project.route.uri !== route) {
      const workspace = new Workspace(memoryFileSource({}));
      for (const [uri, text] of Object.entries(texts)) workspace.edit(uri, text);
      this.texts = texts;
      this.project = workspace.groups().projects.find((project) => project.route.uri === route)!;
      this.cache = new ModelCache();
    }
    return this.project;
  }
}

function sameTexts(a: CountingRoute['texts'] | undefined, b: CountingRoute['texts']): boolean {
  if (a === undefined) return false;
  const uris = Object.keys(b);
  return uris.length === Object.keys(a).length && uris.every((uri) => a[uri] === b[uri]);
}

function sum<T>(list: readonly T[], count: (one: T) => number): number {
  return list.reduce((total, one) => total + count(one), 0);
}
