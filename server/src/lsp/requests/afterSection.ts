import type { Steps } from '../../incremental/steps.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { difficultiesOf } from '../../queries/names.ts';
import { afterView, type KeyedRun } from '../../reports/panel/afterView.ts';
import { reviewReport } from '../../reports/review/reviewReport.ts';
import { runKey } from '../../reports/review/runChange.ts';
import { runChangePage } from '../../reports/review/runChangePage.ts';
import { compareMoments, runnerDayOf } from '../../text/calendar.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { remedies } from './remedies.ts';
import { emptySections, type SectionInput, type Sections } from './section.ts';

/** The most runs that can be chosen: the last ones. */
const mostRuns = 200;

/** One logged run, the last one where none is named: its times against the usual, and what it changed. */
export function* afterSection({
  reports,
  project,
  own,
  modelInput,
  names,
  params,
}: SectionInput): Steps<Sections> {
  const runs = runsOf(own, modelInput.asOfDay, params.run);
  const chosen = runs.find(({ key }) => key === params.run) ?? runs[0];
  if (chosen === undefined) return { ...emptySections, message: noRun, remedies: remedies(own, 'log-run') };
  const { report, fresh } = yield* reports.after(project, own, modelInput, chosen.key, params.wait);
  const pending = fresh ? null : 'Looking at what the run changed';
  if (!report) return { ...emptySections, pending };
  const words = { names: names.techniques, difficulties: difficultiesOf(project) };
  const before = reviewReport(report.before, words);
  const page = runChangePage(before, reviewReport(report.after, words), names.techniques, '');
  return {
    ...emptySections,
    after: afterView(chosen, runs.slice(0, mostRuns), report.usual, page, names),
    pending,
  };
}

const noRun = 'No single run is logged yet. Log one with Log Run: this view then compares it with the usual.';

/**
 * The single runs of a runner up to a day, the last one first. Where all are of later days, which a fixed day of answers
 * or a wrong clock can bring about, it is all of them.
 *
 * @param wanted the key of a run that belongs to them whatever its day is
 */
function runsOf(own: RunnerFiles, asOfDay: number, wanted: string | undefined): KeyedRun[] {
  const dayStarts = dayStartsOf(own);
  const all = own.runs
    .flatMap((file) => file.document.runs.map((run) => ({ key: runKey(file, run), run })))
    .filter(({ run }) => run.kind === 'run')
    .sort((a, b) => compareMoments(b.run.start, a.run.start));
  const past = all.filter(({ key, run }) => key === wanted || runnerDayOf(run.start, dayStarts) <= asOfDay);
  return past.length > 0 ? past : all;
}
