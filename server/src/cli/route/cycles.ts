import type { ModelCache } from '../../model/core/modelCache.ts';
import type { Ranking } from '../../model/core/types.ts';
import type { CycleAlternative } from '../../model/rank/cycleAlternative.ts';
import { rankWithCycle } from '../../model/rank/cycleAlternative.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import type { Request } from '../terminal/arguments.ts';
import type { CliError } from '../terminal/cliError.ts';
import { isCliError } from '../terminal/cliError.ts';
import { parseCycle } from '../terminal/optionValues.ts';
import type { ChosenRoute } from './chooseRoute.ts';
import { knownTechniques } from './knownTechniques.ts';

/**
 * The techniques and cycles, in seconds, of the option `--cycle`; or an error about a technique that the route does not
 * know.
 */
export function cyclesOf(
  { project }: ChosenRoute,
  request: Request,
): readonly { technique: string; seconds: number }[] | CliError {
  const cycles = (request.lists.get('cycle') ?? []).flatMap((written) => parseCycle(written) ?? []);
  const ids = knownTechniques(
    project,
    cycles.map(({ technique }) => technique),
    'cycle',
  );
  if (isCliError(ids)) return ids;
  return cycles.map(({ seconds }, i) => ({ technique: ids[i]!, seconds }));
}

/** The ranking's rows with other cycles. */
export function rankCycleAlternatives(
  modelInput: ModelInput,
  ranking: Ranking,
  cycles: readonly { technique: string; seconds: number }[],
  cache: ModelCache,
): CycleAlternative[] {
  return cycles.flatMap(
    ({ technique, seconds }) => rankWithCycle(modelInput, ranking, technique, seconds, cache) ?? [],
  );
}
