import { existsSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { fileKindOf } from '../../files/fileKind.ts';
import { fileAtRevision } from '../../git/revision.ts';
import { mergedNamesOf } from '../../queries/names.ts';
import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { projectAtRevision } from '../../queries/projectAtRevision.ts';
import { compareJson } from '../../reports/compare/compareReport.ts';
import { comparePage } from '../../reports/compare/compareText.ts';
import { dayText } from '../../reports/basisText.ts';
import {
  type ComparedRoute,
  comparisonBasis,
  comparisonInput,
  compareSides,
} from '../../reports/compare/comparison.ts';
import { closestWord } from '../../text/closestWord.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { reportErrors } from '../checking/reportErrors.ts';
import { loadFiles } from '../project/loadFiles.ts';
import { requireRouteForModel } from '../project/requireOneRoute.ts';
import { remembered } from '../route/remembered.ts';
import { readRouteRequest, type RouteRequest } from '../route/routeRequest.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson } from '../terminal/io.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { shellWord } from '../terminal/shellWord.ts';
import { printPage } from '../terminal/print.ts';

/** What a person asks of `routewright compare`. */
interface CompareRequest extends RouteRequest {
  /** The two routes, as written. */
  readonly first: string;
  readonly second: string;
  /** Time to beat, seconds. */
  readonly target: number | undefined;
  /** Ids of techniques to count in besides those in the run, as written. */
  readonly extra: readonly string[];
}

function readCompareRequest(request: Request): CompareRequest | CliError {
  const { paths, numbers, lists } = request;
  const [first, second, ...more] = paths;
  if (first === undefined || second === undefined || more.length > 0)
    return cliError('Two routes are compared: routewright compare A B. Either can be REVISION:FILE.');
  const asked = readRouteRequest(request);
  return { ...asked, first, second, target: numbers.get('target'), extra: lists.get('with') ?? [] };
}

/** `routewright compare A B`: compares two routes, or one route at two revisions. */
export async function compare(request: Request, io: Io): Promise<CommandResult> {
  const asked = readCompareRequest(request);
  if (isCliError(asked)) return asked;
  const { asOf, target, runner, extra } = asked;
  const a = await comparedRoute(asked.first, runner, io);
  if (isCliError(a)) return a;
  const b = await comparedRoute(asked.second, runner, io);
  if (isCliError(b)) return b;
  const empty = [a, b].find(({ project }) => project.segments.length === 0);
  if (empty)
    return cliError(`${empty.label} has no segments that can be read, so there is nothing to compare.`);
  const unknown = unknownToBoth(extra, a, b);
  if (unknown) return unknown;
  const input = comparisonInput(a, b, { day: { now: io.now(), asked: asOf }, target, runner });
  const { report, answerDay, logsOf, times, untried } = remembered(
    io,
    'Comparing two routes',
    ['compare', comparisonBasis(input, extra)],
    () => compareSides(input, extra),
  );
  if (asked.json) {
    printJson(io, compareJson(report));
    return exitCodes.fine;
  }
  const page = comparePage(report, {
    title: 'Two routes compared',
    basis: dayText(answerDay),
    ...mergedNamesOf(a.project, b.project),
    logsOf,
    times,
    untried,
  });
  printPage(io, page);
  return exitCodes.fine;
}

/** An error about the first of the ids that neither route knows. */
function unknownToBoth(ids: readonly string[], a: ComparedRoute, b: ComparedRoute): CliError | undefined {
  const unknownId = ids.find((id) =>
    [a, b].every(({ project }) => currentTechniqueId(project, id) === undefined),
  );
  if (unknownId === undefined) return undefined;
  const suggestion = closestWord(unknownId, [...b.project.techniques.keys(), ...a.project.techniques.keys()]);
  const hint = suggestion ? ` Did you mean ${suggestion}?` : '';
  return cliError(`--with: neither route has a technique ${unknownId}.${hint}`);
}

/** A route as written on the command line: a file, or `REVISION:FILE`. */
async function comparedRoute(
  written: string,
  runner: string | undefined,
  io: Io,
): Promise<ComparedRoute | CliError> {
  const colon = written.indexOf(':');
  // A file with exactly this name comes first: the colon may be that of a drive letter.
  const isFile = colon < 0 || existsSync(resolve(io.cwd, written));
  if (isFile) return comparedFile(written, runner, io);
  const file = written.slice(colon + 1);
  const path = resolve(io.cwd, file);
  if (fileKindOf(basename(path)) !== 'route')
    return cliError(`${file} is no route: its name would end in .route.yaml.`);
  if (!existsSync(dirname(path))) return cliError(`${file} cannot be read: it does not exist.`);
  const today = existsSync(path) ? await comparedFile(file, runner, io) : undefined;
  if (today !== undefined && isCliError(today)) return today;
  const revision = written.slice(0, colon);
  const former = await projectAtRevision(
    uriOf(path),
    (uri) => fileAtRevision(revision, pathOf(uri)),
    today?.project,
  );
  if ('message' in former) return cliError(`${written} cannot be read: ${former.message}`);
  const tooLarge = tooLargeMessage(former.project);
  if (tooLarge !== undefined) return cliError(tooLarge);
  const own = runnerFilesOf(former.project, runner);
  if ('runners' in own) return cliError(`Name one runner: --runner ${shellWord(own.runners[0]!)}`);
  return { label: written, project: former.project, own, today };
}

async function comparedFile(
  path: string,
  runner: string | undefined,
  io: Io,
): Promise<ComparedRoute | CliError> {
  const loaded = await loadFiles(io, [path]);
  if (isCliError(loaded)) return loaded;
  reportErrors(loaded, io, runner);
  const chosen = requireRouteForModel(loaded, path, io, 'compare', runner);
  return isCliError(chosen) ? chosen : { label: path, ...chosen };
}
