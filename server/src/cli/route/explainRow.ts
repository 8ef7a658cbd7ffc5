import { ModelCache } from '../../model/core/modelCache.ts';
import { buildRateCurve } from '../../model/rank/rateCurve.ts';
import { dailyBlocks, daysAhead } from '../../queries/dailyBlocks.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { nameLookup, segmentNamesOf } from '../../queries/names.ts';
import { standingSentence, standingTitle } from '../../queries/standingText.ts';
import { type CurvePicture, curvePicture } from '../../reports/explain/curvePicture.ts';
import { explainJson, explainReport } from '../../reports/explain/explainReport.ts';
import { explainPage } from '../../reports/explain/explainText.ts';
import type { Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { type Answer, answerHead } from './answer.ts';
import type { ChosenRoute } from './chooseRoute.ts';
import { remembered } from './remembered.ts';
import type { RankTask } from './rankTask.ts';

/** `routewright rank --explain TECHNIQUE`: one row in plain lines, with `--numbers` all values that it was computed from. */
export function explainRow(
  { modelInput, cycles, numbers }: RankTask,
  technique: string,
  route: ChosenRoute,
  io: Io,
): Answer {
  const cache = new ModelCache();
  const progress = `Explaining ${technique}`;
  const report = remembered(io, progress, ['explain', modelInput, technique, cycles], () =>
    explainReport(modelInput, technique, cycles, cache),
  );
  return {
    json: () => explainJson(report),
    print: () => {
      const head = answerHead(route, modelInput, io);
      const nameOf = nameLookup(head.names);
      const segments = segmentNamesOf(route.project);
      const standing = `${standingTitle(report.standing.kind)}. ${standingSentence(report.standing, nameOf)}`;
      const curve = remembered(io, progress, ['curve', modelInput, technique], () =>
        drawnCurve(modelInput, technique, cache),
      );
      printPage(
        io,
        explainPage(report, { ...head, title: nameOf(technique), numbers, segments, standing, curve }),
      );
    },
  };
}

/** The curve of a technique with the daily block that the ranking assumes. */
function drawnCurve(modelInput: ModelInput, technique: string, cache: ModelCache): CurvePicture | undefined {
  const until = modelInput.asOfDay + daysAhead;
  const curve = buildRateCurve(modelInput, technique, dailyBlocks(modelInput), until, cache);
  return curve && curvePicture(curve.points, modelInput.options.blockMinutes);
}
