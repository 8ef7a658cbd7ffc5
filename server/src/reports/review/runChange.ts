import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import type { Run } from '../../files/documents/documents.ts';
import { reviewWeekInSteps, type Review } from '../../model/review/reviewWeek.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { scalarTextAt } from '../../files/edit/valueAt.ts';
import type { ModelCache } from '../../model/core/modelCache.ts';
import { reviewReport, type ReviewReport } from './reviewReport.ts';
import type { Project, RunsFile } from '../../workspace/project.ts';
import { formatMoment, runnerDayOf } from '../../text/calendar.ts';
import { buildModelInputInSteps, type ModelInput } from '../../queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';

/** Two reviews of the week for the same morning: without one logged run, and with it. */
export interface RunChange<R = ReviewReport> {
  readonly before: R;
  readonly after: R;
}

/** The same as the model says it, with the input without the run. */
export interface RunReviews extends RunChange<Review> {
  readonly earlier: ModelInput;
}

/**
 * What one logged run changed; undefined where the runner's runs files do not have it.
 *
 * @param run its key, see {@link runKey}
 * @param today day number of the day that both reviews are for; where the run is of a later day, that day: a fixed day of
 *   answers may lie before it
 */
export function runChange(
  project: Project,
  own: RunnerFiles,
  run: string,
  today: number,
  cache: ModelCache,
): RunChange | undefined {
  const reviews = runReviews(project, own, run, today, cache);
  const names = { names: techniqueNamesOf(project), difficulties: difficultiesOf(project) };
  return (
    reviews && { before: reviewReport(reviews.before, names), after: reviewReport(reviews.after, names) }
  );
}

const runReviews = inOneGo(runReviewsInSteps);

/** What one logged run changed, in numbers: see {@link runChange}. */
export function* runReviewsInSteps(
  project: Project,
  own: RunnerFiles,
  run: string,
  today: number,
  cache: ModelCache,
): Steps<RunReviews | undefined> {
  const found = findRun(own, run);
  if (found === undefined) return undefined;
  const asOf = Math.max(today, runnerDayOf(found.start, dayStartsOf(own)));
  const modelInput = yield* buildModelInputInSteps(project, own, { asOf, memory: cache.shared });
  const without: Project = { ...project, runs: project.runs.map((file) => withoutRun(file, run)) };
  const ownWithout = runnerFilesOf(without, own.runner);
  if ('runners' in ownWithout) return undefined;
  const earlier = yield* buildModelInputInSteps(without, ownWithout, { asOf, memory: cache.shared });
  return {
    before: yield* reviewWeekInSteps(earlier, cache),
    after: yield* reviewWeekInSteps(modelInput, cache),
    earlier,
  };
}

/** What a run is named by: its id, else its start, as `2026-10-04T16:34`. */
export function runKey({ reading }: RunsFile, { path, start }: Run): string {
  return scalarTextAt(reading, [...path, 'id']) ?? formatMoment(start);
}

/** A run of a runner's files by its key. */
export function findRun({ runs }: RunnerFiles, key: string): Run | undefined {
  return runs.flatMap((file) => file.document.runs.filter((run) => runKey(file, run) === key))[0];
}

function withoutRun(file: RunsFile, key: string): RunsFile {
  const runs = file.document.runs.filter((run) => runKey(file, run) !== key);
  return { ...file, document: { ...file.document, runs } };
}
