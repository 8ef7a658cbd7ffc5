import type { Request } from '../terminal/arguments.ts';

/** What a person asks of every command about one route, read from the command line. */
export interface RouteRequest {
  /** The command's name, for the sentence of an error. */
  readonly verb: string;
  /** Files and folders, as written. */
  readonly paths: readonly string[];
  readonly runner: string | undefined;
  /** Day number of `--as-of`; undefined where it is not given. */
  readonly asOf: number | undefined;
  readonly json: boolean;
}

/** Reads the part of a command line that all commands about one route share. */
export function readRouteRequest(request: Request): RouteRequest {
  return {
    verb: request.command.name,
    paths: request.paths,
    runner: request.values.get('runner'),
    asOf: request.numbers.get('as-of'),
    json: request.switches.has('json'),
  };
}
