import type { Steps } from '../../incremental/steps.ts';
import type { Remedy } from '../../protocol/panel/remedies.ts';
import { buildProgressInput } from '../../queries/progressInput.ts';
import { progressView } from '../../reports/panel/progressView.ts';
import { nothingLogged } from '../../reports/progress/progressPage.ts';
import { progressReport } from '../../reports/progress/progressReport.ts';
import { standingReports, standingsById } from '../../reports/standingReports.ts';
import { remedies } from './remedies.ts';
import { emptySections, type SectionInput, type Sections } from './section.ts';

/** The look back over the months: landing rates, best times and hours of practice. */
export function* progressSection({
  reports,
  project,
  own,
  modelInput,
  names,
  params,
}: SectionInput): Steps<Sections> {
  const report = progressReport(buildProgressInput(project, own, modelInput), params.months);
  if (report === undefined)
    return { ...emptySections, message: nothingLogged, remedies: remedies(own, 'log-block', 'log-run') };
  yield;
  // The counts are there at once; where the techniques stand follows. An older ranking may lack a technique.
  const { report: ranking, fresh } =
    names.techniques.size === 0
      ? { report: undefined, fresh: true }
      : yield* reports.ranking(project, modelInput, params.wait);
  const standings = standingsById(standingReports(ranking?.standings ?? [], names.techniques));
  const lacks: Remedy[] = [
    ...(report.practice.allMinutes > 0 ? [] : (['log-block'] as const)),
    ...(report.times.finished > 0 ? [] : (['log-run'] as const)),
  ];
  return {
    ...emptySections,
    progress: progressView(report, standings, names),
    remedies: remedies(own, ...lacks),
    pending: fresh ? null : 'Working out where each technique stands',
  };
}
