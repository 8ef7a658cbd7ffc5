import { ModelCache } from '../../model/core/modelCache.ts';
import { rank as rankTechniques, resolveConstants } from '../../model/index.ts';
import {
  findObjective,
  objectiveOptions,
  objectives,
  type ObjectiveOptions,
} from '../../model/rank/objectives/objectives.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { resolveTarget } from '../../queries/target.ts';
import { basisText } from '../../reports/basisText.ts';
import { cycleAlternativeJson, cycleAlternativeSentence } from '../../reports/explain/cycleAlternative.ts';
import { gainFormat, gainUnitOf, targetSentence } from '../../reports/rank/gainFormat.ts';
import { rankJson } from '../../reports/rank/rankJson.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { rankText } from '../../reports/rank/rankText.ts';
import { formatCount } from '../../text/format.ts';
import { formatTime } from '../../text/time.ts';
import { titleOf } from '../project/titleOf.ts';
import { chooseRoute, type ChosenRoute } from '../route/chooseRoute.ts';
import { rankCycleAlternatives, cyclesOf } from '../route/cycles.ts';
import { explainRow } from '../route/explainRow.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, withProgress } from '../terminal/io.ts';
import { asOfDay, targetOption } from '../terminal/optionValues.ts';
import { styleOf } from '../terminal/print.ts';

/** `routewright rank`: which technique to learn next. */
export async function rank(request: Request, io: Io): Promise<CommandResult> {
  const chosenRoute = await chooseRoute(request, io, 'rank');
  if (isCliError(chosenRoute)) return chosenRoute;
  const { project, own, loaded } = chosenRoute;
  const cycles = cyclesOf(chosenRoute, request);
  if (isCliError(cycles)) return cycles;
  const objective = chosenObjective(chosenRoute, request);
  if (isCliError(objective)) return objective;
  const explainedTechnique = request.values.get('explain');
  if (explainedTechnique !== undefined) return explainRow(chosenRoute, request, io, explainedTechnique);
  const asOf = asOfDay(request);
  const withoutObjective = buildModelInput(project, own, { asOf, all: request.switches.has('all') });
  const modelInput = { ...withoutObjective, options: { ...withoutObjective.options, ...objective } };
  const techniques = formatCount(project.techniques.size, 'technique');
  const cache = new ModelCache();
  const ranking = withProgress(io, `Ranking ${techniques}`, () => rankTechniques(modelInput, cache));
  const report = rankReport(ranking, modelInput.asOfDay);
  const alternatives = rankCycleAlternatives(modelInput, ranking, cycles, cache);
  if (request.switches.has('json')) {
    const json = rankJson(report);
    printJson(
      io,
      cycles.length === 0 ? json : { ...json, alternatives: alternatives.map(cycleAlternativeJson) },
    );
  } else {
    const style = styleOf(io);
    const targetLine = targetSentence(report, formatTime);
    const labels = {
      title: titleOf(project, io),
      basis: [
        basisText(own, modelInput, asOf === undefined ? 'last' : 'asked'),
        ...(targetLine === undefined ? [] : [targetLine]),
      ],
      names: techniqueNamesOf(project),
      offsetPerStep: resolveConstants(modelInput.constants).midwayPerStep,
      alternatives: alternatives.map(
        (one) => [one.technique, cycleAlternativeSentence(one, gainFormat(gainUnitOf(report)))] as const,
      ),
      caution: overuseWarning(own, modelInput.asOfDay),
    };
    io.stdout.write(rankText(report, labels, style));
  }
  if (loaded.refused.length > 0) return exitCodes.wrong;
  return report.rows.length === 0 ? exitCodes.findings : exitCodes.fine;
}

/** The objective of the ranking, with the time to beat where the objective needs one. */
function chosenObjective({ project, own }: ChosenRoute, request: Request): ObjectiveOptions | CliError {
  const seconds = targetOption(request);
  const { id, needs } = findObjective(request.values.get('objective'));
  if (seconds !== undefined && needs !== 'target') {
    const others = objectives.filter((other) => other.needs === 'target').map((other) => other.id);
    return cliError(`--target goes with --objective ${others.join(' or ')}: by ${id}, no target is needed.`);
  }
  if (request.values.has('explain') && id !== objectives[0].id)
    return cliError(`--explain shows seconds: leave out --objective ${id} to have a row explained.`);
  if (needs === undefined) return objectiveOptions(id, {});
  if (project.segments.length === 0)
    return cliError('The route has no segments yet, so there is no run that could beat a target.');
  const target = resolveTarget(project, own, seconds);
  return target === undefined
    ? cliError(
        'There is no target to beat: give one with --target, or as target: in the week file or the route.',
      )
    : objectiveOptions(id, { target: target.seconds });
}
