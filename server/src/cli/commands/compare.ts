import { access } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { fileKindOf } from '../../files/fileKind.ts';
import { fileAtRevision } from '../../git/revision.ts';
import { mergedNamesOf } from '../../queries/names.ts';
import { projectAtRevision } from '../../queries/projectAtRevision.ts';
import { compareJson } from '../../reports/compare/compareReport.ts';
import { comparePage } from '../../reports/compare/compareText.ts';
import { type ComparedRoute, compareRoutes } from '../../reports/compare/comparison.ts';
import { formatDate } from '../../text/calendar.ts';
import { closestWord } from '../../text/closestWord.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { reportErrors } from '../checking/reportErrors.ts';
import { loadFiles } from '../project/loadFiles.ts';
import { reportRefused } from '../project/reportRefused.ts';
import { requireOneRoute } from '../project/requireOneRoute.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, withProgress } from '../terminal/io.ts';
import { asOfDay, targetOption } from '../terminal/optionValues.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright compare A B`: compares two routes, or one route at two revisions. */
export async function compare(request: Request, io: Io): Promise<CommandResult> {
  const [first, second, ...more] = request.paths;
  if (first === undefined || second === undefined || more.length > 0)
    return cliError('Two routes are compared: routewright compare A B. Either can be REVISION:FILE.');
  const a = await comparedRoute(first, request, io);
  if (isCliError(a)) return a;
  const b = await comparedRoute(second, request, io);
  if (isCliError(b)) return b;
  const extra = request.lists.get('with') ?? [];
  const unknownId = extra.find((id) =>
    [a, b].every(({ project }) => currentTechniqueId(project, id) === undefined),
  );
  if (unknownId !== undefined) {
    const suggestion = closestWord(unknownId, [
      ...b.project.techniques.keys(),
      ...a.project.techniques.keys(),
    ]);
    const hint = suggestion ? ` Did you mean ${suggestion}?` : '';
    return cliError(`--with: neither route has a technique ${sanitizeForTerminal(unknownId)}.${hint}`);
  }
  const asOf = asOfDay(request);
  const { report, logsOf } = withProgress(io, 'Comparing two routes', () =>
    compareRoutes(a, b, {
      asOf,
      target: targetOption(request),
      with: extra,
      runner: request.values.get('runner'),
    }),
  );
  if (request.switches.has('json')) {
    printJson(io, compareJson(report));
    return exitCodes.fine;
  }
  const basis =
    asOf === undefined
      ? report.asOf === formatDate(0)
        ? 'nothing is logged'
        : 'the day after the last log entry'
      : 'as asked';
  const page = comparePage(report, {
    title: 'Two routes compared',
    basis: `For the morning of ${report.asOf}, ${basis}.`,
    ...mergedNamesOf(a.project, b.project),
    logsOf,
  });
  printPage(io, page);
  return exitCodes.fine;
}

/** A route as written on the command line: a file, or `REVISION:FILE`. */
async function comparedRoute(written: string, request: Request, io: Io): Promise<ComparedRoute | CliError> {
  const runner = request.values.get('runner');
  const colon = written.indexOf(':');
  // A file with exactly this name comes first: the colon may be that of a drive letter.
  const isFile = colon < 0 || (await exists(resolve(io.cwd, written)));
  if (isFile) return comparedFile(written, written, io, runner);
  const file = written.slice(colon + 1);
  const path = resolve(io.cwd, file);
  if (fileKindOf(basename(path)) !== 'route')
    return cliError(`${sanitizeForTerminal(file)} is no route: its name would end in .route.yaml.`);
  if (!(await exists(dirname(path))))
    return cliError(`${sanitizeForTerminal(file)} cannot be read: it does not exist.`);
  const today = (await exists(path)) ? await comparedFile(file, file, io, runner) : undefined;
  if (today !== undefined && isCliError(today)) return today;
  const revision = written.slice(0, colon);
  const former = await projectAtRevision(
    uriOf(path),
    (uri) => fileAtRevision(revision, pathOf(uri)),
    today?.project,
  );
  if ('message' in former)
    return cliError(`${sanitizeForTerminal(written)} cannot be read: ${former.message}`);
  const own = runnerFilesOf(former.project, runner);
  if ('runners' in own) return cliError(`Name one runner: --runner ${own.runners[0]}`);
  return { label: sanitizeForTerminal(written), project: former.project, own };
}

async function comparedFile(
  path: string,
  label: string,
  io: Io,
  runner: string | undefined,
): Promise<ComparedRoute | CliError> {
  const loaded = await loadFiles(io.cwd, [path]);
  if (isCliError(loaded)) return loaded;
  reportRefused(loaded, io);
  reportErrors(loaded, io, runner);
  const chosen = requireOneRoute(loaded, path, io, 'compare', runner);
  return isCliError(chosen) ? chosen : { label: sanitizeForTerminal(label), ...chosen };
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
