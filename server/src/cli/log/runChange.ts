import { RankCache } from '../../incremental/memoCache.ts';
import { changePage } from '../../reports/review/runChangePage.ts';
import { namesOf } from '../../queries/names.ts';
import { runChange } from '../../reports/review/runChange.ts';
import { tell, withProgress } from '../terminal/io.ts';
import { load } from '../project/loadFiles.ts';
import type { LogPlace } from './log.ts';
import { printPage } from '../terminal/print.ts';
import { oneRoute, titleOf } from '../project/chosenRoute.ts';

/**
 * What a logged run changed in the review, for people, once the run stands in its file. The run is logged by then:
 * where the review cannot be made, that alone is said.
 */
export async function printRunChange({ io, request, target }: LogPlace, id: string): Promise<void> {
  const loaded = await load(io.cwd, [target.runs]);
  const found =
    'message' in loaded ? loaded : oneRoute(loaded, target.runs, io, 'review', request.values.get('runner'));
  if ('message' in found) {
    tell(io, `What the run changed cannot be told. ${found.message}`);
    return;
  }
  const { project, own } = found;
  const change = withProgress(io, 'Looking at what the run changed', () =>
    runChange(project, own, id, new RankCache()),
  );
  // An editor that has the file open takes the run up later.
  if (!change) return;
  const { before, after } = change;
  io.stdout.write('\n');
  printPage(io, changePage(before, after, namesOf(project), `After the run: ${titleOf(project, io)}`));
}
