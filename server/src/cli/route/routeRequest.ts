import type { Request } from '../terminal/arguments.ts';
import { asOfOption } from '../terminal/optionValues.ts';

/** What a person asks of every command about one route, read from the command line. */
export interface RouteRequest {
  /** The command's name, for the sentence of an error. */
  readonly verb: string;
  /** Files and folders, as written. */
  readonly paths: readonly string[];
  readonly runner: string | undefined;
  /** The day that is asked for: a day number, or `last` for the day after the last log entry; undefined: today. */
  readonly asOf: number | 'last' | undefined;
  readonly json: boolean;
}

/** Reads the part of a command line that all commands about one route share. */
export function readRouteRequest(request: Request): RouteRequest {
  return {
    verb: request.command.name,
    paths: request.paths,
    runner: request.values.get('runner'),
    asOf: asOfOption(request),
    json: request.switches.has('json'),
  };
}
