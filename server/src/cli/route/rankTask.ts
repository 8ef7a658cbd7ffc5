import {
  findObjective,
  objectiveOptions,
  objectives,
  type ObjectiveOptions,
} from '../../model/rank/objectives/objectives.ts';
import { buildModelInput, type ModelInput } from '../../queries/modelInput.ts';
import { resolveTarget } from '../../queries/target.ts';
import type { TechniqueCycle } from '../../reports/rank/cycleAlternatives.ts';
import { cliError, type CliError, isCliError } from '../terminal/cliError.ts';
import type { ChosenRoute } from './chooseRoute.ts';
import { knownTechniques } from './knownTechniques.ts';
import type { RankRequest } from './rankRequest.ts';

/** What the model computes for a ranking, or for one row of it. Ids are those of today. */
export interface RankTask {
  readonly modelInput: ModelInput;
  /** Techniques that are ranked a second time with another cycle. */
  readonly cycles: readonly TechniqueCycle[];
  /** The technique whose row is explained; undefined where the ranking is the answer. */
  readonly explained: string | undefined;
  /** Whether the explanation has every number and formula. */
  readonly numbers: boolean;
}

/** What a request asks of the model, or an error about a part of the request that does not fit the route. */
export function rankTask(route: ChosenRoute, request: RankRequest): RankTask | CliError {
  const { project, own, answerDay } = route;
  const { explain } = request;
  const cycleIds = knownTechniques(
    project,
    request.cycles.map(({ technique }) => technique),
    'cycle',
  );
  if (isCliError(cycleIds)) return cycleIds;
  if (request.numbers && explain === undefined)
    return cliError('--numbers goes with --explain TECHNIQUE: it adds the numbers of one row.');
  const objective = chosenObjective(route, request);
  if (isCliError(objective)) return objective;
  const explainedIds = knownTechniques(project, explain === undefined ? [] : [explain], 'explain');
  if (isCliError(explainedIds)) return explainedIds;
  const [explained] = explainedIds;
  const modelInput = buildModelInput(project, own, { asOf: answerDay.day, all: request.all });
  return {
    modelInput: { ...modelInput, options: { ...modelInput.options, ...objective } },
    cycles: request.cycles.map(({ seconds }, i) => ({ technique: cycleIds[i]!, seconds })),
    explained,
    numbers: request.numbers,
  };
}

/** The objective of the ranking, with the time to beat where the objective needs one. */
function chosenObjective(
  { project, own }: ChosenRoute,
  { objective, target, explain }: RankRequest,
): ObjectiveOptions | CliError {
  const seconds = resolveTarget(project, own, target)?.seconds;
  const { id, needs } = findObjective(objective);
  if (target !== undefined && needs !== 'target') {
    const others = objectives.filter((other) => other.needs === 'target').map((other) => other.id);
    return cliError(`--target goes with --objective ${others.join(' or ')}: by ${id}, no target is needed.`);
  }
  if (explain !== undefined && id !== objectives[0].id)
    return cliError(`--explain shows seconds: leave out --objective ${id} to have a row explained.`);
  if (needs === 'target' && project.segments.length === 0)
    return cliError('The route has no segments yet, so there is no run that could beat a target.');
  if (needs === 'target' && seconds === undefined)
    return cliError(
      'There is no target to beat: give one with --target, or as target: in the week file or the route.',
    );
  return objectiveOptions(id, { target: seconds });
}
