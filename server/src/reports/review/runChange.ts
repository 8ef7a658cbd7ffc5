import { wordAt } from '../../journal/logEntries.ts';
import type { RankCache } from '../../incremental/memoCache.ts';
import type { ReviewReport } from './reviewReport.ts';
import type { Project, RunsFile } from '../../workspace/project.ts';
import { questionOf } from '../../queries/modelInput.ts';
import { ownPart, type Own } from '../../workspace/runnerFiles.ts';
import { weekReview } from './weekReviewReport.ts';

/** The review of the week as it would be without one logged run, and as it is with it, both for the same morning. */
export interface RunChange {
  readonly before: ReviewReport;
  readonly after: ReviewReport;
}

/** What one logged run changed; undefined where it stands in no runs file of the runner. */
export function runChange(project: Project, own: Own, id: string, cache: RankCache): RunChange | undefined {
  if (!own.runs.some((file) => has(file, id))) return undefined;
  // The run counts from the day after it on.
  const question = questionOf(project, own, { memory: cache.shared });
  const without: Project = { ...project, runs: project.runs.map((file) => withoutRun(file, id)) };
  const ownWithout = ownPart(without, own.runner);
  if ('runners' in ownWithout) return undefined;
  const earlier = questionOf(without, ownWithout, { asOf: question.asOfDay, memory: cache.shared });
  return { before: weekReview(without, earlier, cache), after: weekReview(project, question, cache) };
}

function has({ reading, document }: RunsFile, id: string): boolean {
  return document.runs.some(({ path }) => wordAt(reading, [...path, 'id']) === id);
}

function withoutRun(file: RunsFile, id: string): RunsFile {
  const runs = file.document.runs.filter(({ path }) => wordAt(file.reading, [...path, 'id']) !== id);
  return { ...file, document: { ...file.document, runs } };
}
