import type { TechniqueCycle } from '../../reports/rank/cycleAlternatives.ts';
import type { Request } from '../terminal/arguments.ts';
import { cyclesOption } from '../terminal/optionValues.ts';
import { readRouteRequest, type RouteRequest } from './routeRequest.ts';

/** What a person asks of `routewright rank`, read from the command line. Ids are as written. */
export interface RankRequest extends RouteRequest {
  /** Whether the techniques in the run are ranked, too. */
  readonly all: boolean;
  /** Id of the objective. */
  readonly objective: string | undefined;
  /** Time to beat, seconds. */
  readonly target: number | undefined;
  /** The technique whose row is explained in place of a ranking. */
  readonly explain: string | undefined;
  /** Whether the explanation has every number and formula. */
  readonly numbers: boolean;
  readonly cycles: readonly TechniqueCycle[];
}

/** Reads the command line of `routewright rank`. */
export function readRankRequest(request: Request): RankRequest {
  const { switches, values, numbers } = request;
  return {
    ...readRouteRequest(request),
    all: switches.has('all'),
    objective: values.get('objective'),
    target: numbers.get('target'),
    numbers: switches.has('numbers'),
    explain: values.get('explain'),
    cycles: cyclesOption(request),
  };
}
