import { ModelCache } from '../../model/core/modelCache.ts';
import { runChangePage } from '../../reports/review/runChangePage.ts';
import { momentNow } from '../../journal/clock.ts';
import { answerDayOf } from '../../queries/answerDay.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { runChange } from '../../reports/review/runChange.ts';
import { printLines, printNotice, withProgress } from '../terminal/io.ts';
import { loadFiles } from '../project/loadFiles.ts';
import type { LogContext } from './logContext.ts';
import { printPage } from '../terminal/print.ts';
import { titleOf } from '../project/titleOf.ts';
import { requireRouteForModel } from '../project/requireOneRoute.ts';

/**
 * Prints how a logged run changed the review, once the run is in its file. The run is logged by then: where the review
 * cannot be made, only that is printed.
 */
export async function printRunChange({ io, request, target, clock }: LogContext, id: string): Promise<void> {
  const loaded = await loadFiles(io, [target.runs]);
  const found =
    'message' in loaded
      ? loaded
      : requireRouteForModel(loaded, target.runs, io, 'review', request.values.get('runner'));
  if ('message' in found) {
    printNotice(io, `What the run changed cannot be told. ${found.message}`);
    return;
  }
  const { project, own } = found;
  const { day } = answerDayOf(own, { now: momentNow(clock), asked: undefined });
  const change = withProgress(io, 'Looking at what the run changed', () =>
    runChange(project, own, id, day, new ModelCache()),
  );
  // No change yet: an editor has the file open and will put the run into it.
  if (!change) return;
  const { before, after } = change;
  printLines(io, ['']);
  printPage(
    io,
    runChangePage(before, after, techniqueNamesOf(project), `After the run: ${titleOf(project, io)}`),
  );
}
