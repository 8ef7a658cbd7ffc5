import { ModelCache } from '../../model/core/modelCache.ts';
import { rank } from '../../model/index.ts';
import { rankWithCycle } from '../../model/rank/cycleAlternative.ts';
import { explainTechnique } from '../../model/rank/explainTechnique.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { segmentNamesOf, techniqueNamesOf } from '../../queries/names.ts';
import { basisText } from '../../reports/basisText.ts';
import { explainJson } from '../../reports/explain/explainReport.ts';
import { explainPage } from '../../reports/explain/explainText.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import type { Request } from '../terminal/arguments.ts';
import type { CommandResult } from '../terminal/cliError.ts';
import { isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, withProgress } from '../terminal/io.ts';
import { asOfDay } from '../terminal/optionValues.ts';
import { printPage } from '../terminal/print.ts';
import type { ChosenRoute } from './chooseRoute.ts';
import { rankCycleAlternatives, cyclesOf } from './cycles.ts';
import { knownTechniques } from './knownTechniques.ts';

/** `routewright rank --explain TECHNIQUE`: one row with all values that it was computed from. */
export function explainRow(
  chosenRoute: ChosenRoute,
  request: Request,
  io: Io,
  written: string,
): CommandResult {
  const { project, own, loaded } = chosenRoute;
  const ids = knownTechniques(project, [written], 'explain');
  if (isCliError(ids)) return ids;
  const cycles = cyclesOf(chosenRoute, request);
  if (isCliError(cycles)) return cycles;
  const technique = ids[0]!;
  const asOf = asOfDay(request);
  const state = buildModelInput(project, own, { asOf }).states.get(technique);
  // A technique in the run is ranked among all; any other has the same row as in the ranking.
  const modelInput = buildModelInput(project, own, {
    asOf,
    all: request.switches.has('all') || state === 'in-run',
  });
  const report = withProgress(io, `Explaining ${technique}`, () => {
    const cache = new ModelCache();
    const ranking = rank(modelInput, cache);
    const index = ranking.rows.findIndex((row) => row.technique === technique);
    const cycle = chosenRoute.project.techniques.get(technique)!.practice;
    return {
      asOf: rankReport(ranking, modelInput.asOfDay).asOf,
      explanation: explainTechnique(modelInput, technique, cache)!,
      row: ranking.rows[index] ?? null,
      place: index < 0 ? null : index + 1,
      halved: rankWithCycle(modelInput, ranking, technique, (cycle.attempt + cycle.reload) / 2, cache),
      alternatives: rankCycleAlternatives(modelInput, ranking, cycles, cache),
    };
  });
  if (request.switches.has('json')) printJson(io, explainJson(report));
  else {
    const names = techniqueNamesOf(project);
    const page = explainPage(report, {
      title: `${names.get(technique) ?? technique}: how its numbers come about`,
      basis: basisText(own, modelInput, asOf === undefined ? 'last' : 'asked'),
      names,
      segments: segmentNamesOf(project),
    });
    printPage(io, page);
  }
  return loaded.refused.length > 0 ? exitCodes.wrong : exitCodes.fine;
}
