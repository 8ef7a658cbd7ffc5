import { explainTechnique } from '../../model/rank/explainTechnique.ts';
import { rank } from '../../model/index.ts';
import { ModelCache } from '../../model/core/modelCache.ts';
import { rankWithCycle, type CycleAlternative } from '../../model/rank/cycleAlternative.ts';
import type { Ranking } from '../../model/core/types.ts';
import { explainJson } from '../../reports/explain/explainReport.ts';
import { explainPage } from '../../reports/explain/explainText.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { basisText } from '../../reports/basisText.ts';
import { techniqueNamesOf, segmentNamesOf } from '../../queries/names.ts';
import { buildModelInput, type ModelInput } from '../../queries/modelInput.ts';
import { asOfDay, parseCycle, type Request } from '../terminal/arguments.ts';
import { exitCodes, printJson, printNotice, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import type { InputError } from '../project/loadFiles.ts';
import { isInputError, knownTechniques, type ChosenRoute } from '../project/chosenRoute.ts';

/** `routewright rank --explain TECHNIQUE`: one row with all it came from. Returns the exit code. */
export function explainRow(subject: ChosenRoute, request: Request, io: Io, written: string): number {
  const { project, own, loaded } = subject;
  const known = knownTechniques(project, [written], 'explain');
  const cycles = cyclesOf(subject, request);
  if (isInputError(known) || isInputError(cycles)) {
    printNotice(io, isInputError(known) ? known.message : isInputError(cycles) ? cycles.message : '');
    return exitCodes.wrong;
  }
  const technique = known[0]!;
  const asked = asOfDay(request);
  const state = buildModelInput(project, own, { asOf: asked }).states.get(technique);
  // What is in the run is ranked among all; otherwise the row is the one that the ranking shows.
  const question = buildModelInput(project, own, {
    asOf: asked,
    all: request.switches.has('all') || state === 'in-run',
  });
  const report = withProgress(io, `Explaining ${technique}`, () => {
    const cache = new ModelCache();
    const ranking = rank(question, cache);
    const index = ranking.rows.findIndex((row) => row.technique === technique);
    const cycle = subject.project.techniques.get(technique)!.practice;
    return {
      asOf: rankReport(ranking, question.asOfDay).asOf,
      explanation: explainTechnique(question, technique, cache)!,
      row: ranking.rows[index] ?? null,
      place: index < 0 ? null : index + 1,
      halved: rankWithCycle(question, ranking, technique, (cycle.attempt + cycle.reload) / 2, cache),
      alternatives: alternativesOf(question, ranking, cycles, cache),
    };
  });
  if (request.switches.has('json')) printJson(io, explainJson(report));
  else {
    const names = techniqueNamesOf(project);
    const page = explainPage(report, {
      title: `${names.get(technique) ?? technique}: how its numbers come about`,
      basis: basisText(own, question, asked === undefined ? 'last' : 'asked'),
      names,
      segments: segmentNamesOf(project),
    });
    printPage(io, page);
  }
  return loaded.refused.length > 0 ? exitCodes.wrong : exitCodes.fine;
}

/** Techniques and the seconds of the cycle asked about, or a sentence about one that the route does not know. */
export function cyclesOf(
  { project }: ChosenRoute,
  request: Request,
): readonly { technique: string; seconds: number }[] | InputError {
  const cycles = (request.lists.get('cycle') ?? []).flatMap((written) => parseCycle(written) ?? []);
  const known = knownTechniques(
    project,
    cycles.map(({ technique }) => technique),
    'cycle',
  );
  if (isInputError(known)) return known;
  return cycles.map(({ seconds }, i) => ({ technique: known[i]!, seconds }));
}

/** What other cycles would make of the ranking. */
export function alternativesOf(
  question: ModelInput,
  ranking: Ranking,
  cycles: readonly { technique: string; seconds: number }[],
  cache: ModelCache,
): CycleAlternative[] {
  return cycles.flatMap(
    ({ technique, seconds }) => rankWithCycle(question, ranking, technique, seconds, cache) ?? [],
  );
}
