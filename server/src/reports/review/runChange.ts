import { scalarTextAt } from '../../files/edit/valueAt.ts';
import type { ModelCache } from '../../model/core/modelCache.ts';
import type { ReviewReport } from './reviewReport.ts';
import type { Project, RunsFile } from '../../workspace/project.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import { weekReviewReport } from './weekReviewReport.ts';

/** Two reviews of the week for the same morning: without one logged run, and with it. */
export interface RunChange {
  readonly before: ReviewReport;
  readonly after: ReviewReport;
}

/**
 * What one logged run changed; undefined where the runner's runs files do not have it.
 *
 * @param asOf day number of the day that both reviews are for
 */
export function runChange(
  project: Project,
  own: RunnerFiles,
  id: string,
  asOf: number,
  cache: ModelCache,
): RunChange | undefined {
  if (!own.runs.some((file) => has(file, id))) return undefined;
  const modelInput = buildModelInput(project, own, { asOf, memory: cache.shared });
  const without: Project = { ...project, runs: project.runs.map((file) => withoutRun(file, id)) };
  const ownWithout = runnerFilesOf(without, own.runner);
  if ('runners' in ownWithout) return undefined;
  const earlier = buildModelInput(without, ownWithout, { asOf, memory: cache.shared });
  return {
    before: weekReviewReport(without, earlier, cache),
    after: weekReviewReport(project, modelInput, cache),
  };
}

function has({ reading, document }: RunsFile, id: string): boolean {
  return document.runs.some(({ path }) => scalarTextAt(reading, [...path, 'id']) === id);
}

function withoutRun(file: RunsFile, id: string): RunsFile {
  const runs = file.document.runs.filter(({ path }) => scalarTextAt(file.reading, [...path, 'id']) !== id);
  return { ...file, document: { ...file.document, runs } };
}
