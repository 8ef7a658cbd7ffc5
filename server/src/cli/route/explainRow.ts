import { nameLookup, segmentNamesOf } from '../../queries/names.ts';
import { standingSentence, standingTitle } from '../../queries/standingText.ts';
import { explainJson, explainReport } from '../../reports/explain/explainReport.ts';
import { explainPage } from '../../reports/explain/explainText.ts';
import { type Io, withProgress } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { type Answer, answerHead } from './answer.ts';
import type { ChosenRoute } from './chooseRoute.ts';
import type { RankTask } from './rankTask.ts';

/** `routewright rank --explain TECHNIQUE`: one row in plain lines, with `--numbers` all values that it was computed from. */
export function explainRow(
  { modelInput, cycles, numbers }: RankTask,
  technique: string,
  route: ChosenRoute,
  io: Io,
): Answer {
  const report = withProgress(io, `Explaining ${technique}`, () =>
    explainReport(modelInput, technique, cycles),
  );
  return {
    json: () => explainJson(report),
    print: () => {
      const head = answerHead(route, modelInput, io);
      const nameOf = nameLookup(head.names);
      const segments = segmentNamesOf(route.project);
      const standing = `${standingTitle(report.standing.kind)}. ${standingSentence(report.standing, nameOf)}`;
      printPage(io, explainPage(report, { ...head, title: nameOf(technique), numbers, segments, standing }));
    },
  };
}
