import { explain } from '../../model/rank/explainTechnique.ts';
import { rank } from '../../model/index.ts';
import { RankCache } from '../../incremental/memoCache.ts';
import { withCycle, type Alternative } from '../../model/rank/cycleAlternative.ts';
import type { Ranking } from '../../model/core/types.ts';
import { explainJson } from '../../reports/explain/explainReport.ts';
import { explainPage } from '../../reports/explain/explainText.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { basisOf } from '../../reports/basisText.ts';
import { namesOf, segmentNamesOf } from '../../queries/names.ts';
import { questionOf, type Question } from '../../queries/modelInput.ts';
import { asOfDay, cycleOf, type Request } from '../terminal/arguments.ts';
import { exit, printJson, tell, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import type { Unusable } from '../project/loadFiles.ts';
import { isUnusable, knownTechniques, type Subject } from '../project/chosenRoute.ts';

/** `routewright rank --explain TECHNIQUE`: one row with all it came from. Returns the exit code. */
export function explainRow(subject: Subject, request: Request, io: Io, written: string): number {
  const { project, own, loaded } = subject;
  const known = knownTechniques(project, [written], 'explain');
  const cycles = cyclesOf(subject, request);
  if (isUnusable(known) || isUnusable(cycles)) {
    tell(io, isUnusable(known) ? known.message : isUnusable(cycles) ? cycles.message : '');
    return exit.wrong;
  }
  const technique = known[0]!;
  const asked = asOfDay(request);
  const state = questionOf(project, own, { asOf: asked }).states.get(technique);
  // What is in the run is ranked among all; otherwise the row is the one that the ranking shows.
  const question = questionOf(project, own, {
    asOf: asked,
    all: request.switches.has('all') || state === 'in-run',
  });
  const report = withProgress(io, `Explaining ${technique}`, () => {
    const cache = new RankCache();
    const ranking = rank(question, cache);
    const index = ranking.rows.findIndex((row) => row.technique === technique);
    const cycle = subject.project.techniques.get(technique)!.practice;
    return {
      asOf: rankReport(ranking, question.asOfDay).asOf,
      explanation: explain(question, technique, cache)!,
      row: ranking.rows[index] ?? null,
      place: index < 0 ? null : index + 1,
      halved: withCycle(question, ranking, technique, (cycle.attempt + cycle.reload) / 2, cache),
      alternatives: alternativesOf(question, ranking, cycles, cache),
    };
  });
  if (request.switches.has('json')) printJson(io, explainJson(report));
  else {
    const names = namesOf(project);
    const page = explainPage(report, {
      title: `${names.get(technique) ?? technique}: how its numbers come about`,
      basis: basisOf(own, question, asked === undefined ? 'last' : 'asked'),
      names,
      segments: segmentNamesOf(project),
    });
    printPage(io, page);
  }
  return loaded.refused.length > 0 ? exit.wrong : exit.fine;
}

/** Techniques and the seconds of the cycle asked about, or a sentence about one that the route does not know. */
export function cyclesOf(
  { project }: Subject,
  request: Request,
): readonly { technique: string; seconds: number }[] | Unusable {
  const cycles = (request.lists.get('cycle') ?? []).flatMap((written) => cycleOf(written) ?? []);
  const known = knownTechniques(
    project,
    cycles.map(({ technique }) => technique),
    'cycle',
  );
  if (isUnusable(known)) return known;
  return cycles.map(({ seconds }, i) => ({ technique: known[i]!, seconds }));
}

/** What other cycles would make of the ranking. */
export function alternativesOf(
  question: Question,
  ranking: Ranking,
  cycles: readonly { technique: string; seconds: number }[],
  cache: RankCache,
): Alternative[] {
  return cycles.flatMap(
    ({ technique, seconds }) => withCycle(question, ranking, technique, seconds, cache) ?? [],
  );
}
