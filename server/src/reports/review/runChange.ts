import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { scalarTextAt } from '../../files/edit/valueAt.ts';
import type { ModelCache } from '../../model/core/modelCache.ts';
import type { ReviewReport } from './reviewReport.ts';
import type { Project, RunsFile } from '../../workspace/project.ts';
import { runnerDayOf } from '../../text/calendar.ts';
import { buildModelInputInSteps } from '../../queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import { weekReviewReportInSteps } from './weekReviewReport.ts';

/** Two reviews of the week for the same morning: without one logged run, and with it. */
export interface RunChange {
  readonly before: ReviewReport;
  readonly after: ReviewReport;
}

/**
 * What one logged run changed; undefined where the runner's runs files do not have it.
 *
 * @param today day number of the day that both reviews are for; where the run is of a later day, that day: a fixed day of
 *   answers may lie before it
 */
export const runChange = inOneGo(runChangeInSteps);

/** The same in steps. */
export function* runChangeInSteps(
  project: Project,
  own: RunnerFiles,
  id: string,
  today: number,
  cache: ModelCache,
): Steps<RunChange | undefined> {
  const run = own.runs.flatMap((file) => findRun(file, id) ?? [])[0];
  if (run === undefined) return undefined;
  const asOf = Math.max(today, runnerDayOf(run.start, dayStartsOf(own)));
  const modelInput = yield* buildModelInputInSteps(project, own, { asOf, memory: cache.shared });
  const without: Project = { ...project, runs: project.runs.map((file) => withoutRun(file, id)) };
  const ownWithout = runnerFilesOf(without, own.runner);
  if ('runners' in ownWithout) return undefined;
  const earlier = yield* buildModelInputInSteps(without, ownWithout, { asOf, memory: cache.shared });
  return {
    before: yield* weekReviewReportInSteps(without, earlier, cache),
    after: yield* weekReviewReportInSteps(project, modelInput, cache),
  };
}

function findRun({ reading, document }: RunsFile, id: string) {
  return document.runs.find(({ path }) => scalarTextAt(reading, [...path, 'id']) === id);
}

function withoutRun(file: RunsFile, id: string): RunsFile {
  const runs = file.document.runs.filter(({ path }) => scalarTextAt(file.reading, [...path, 'id']) !== id);
  return { ...file, document: { ...file.document, runs } };
}
