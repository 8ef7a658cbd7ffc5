import { access } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { fileKindOf } from '../../files/fileKind.ts';
import { formatDate } from '../../text/calendar.ts';
import { closestWord } from '../../text/closestWord.ts';
import { fileAtRevision } from '../../git/revision.ts';
import { compareJson } from '../../reports/compare/compareReport.ts';
import { comparePage } from '../../reports/compare/compareText.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { projectAtRevision } from '../../queries/projectAtRevision.ts';
import { compareRoutes, type ComparedRoute } from '../../reports/compare/comparison.ts';
import { mergedNamesOf } from '../../queries/names.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { targetOption, asOfDay, type Request } from '../terminal/arguments.ts';
import { exitCodes, printJson, printNotice, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { loadFiles, type InputError } from '../project/loadFiles.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { reportRefused } from '../terminal/reportRefused.ts';
import { isInputError, requireOneRoute, reportErrors } from '../project/chosenRoute.ts';

/** `routewright compare A B`: two routes, or one at two revisions. Returns the exit code. */
export async function compare(request: Request, io: Io): Promise<number> {
  const [first, second, ...more] = request.paths;
  if (first === undefined || second === undefined || more.length > 0) {
    printNotice(io, 'Two routes are compared: routewright compare A B. Either can be REVISION:FILE.');
    return exitCodes.wrong;
  }
  const a = await comparedRoute(first, request, io);
  const b = isInputError(a) ? a : await comparedRoute(second, request, io);
  if (isInputError(a) || isInputError(b)) {
    printNotice(io, isInputError(b) ? b.message : '');
    return exitCodes.wrong;
  }
  const extra = request.lists.get('with') ?? [];
  const stranger = extra.find((id) =>
    [a, b].every(({ project }) => currentTechniqueId(project, id) === undefined),
  );
  if (stranger !== undefined) {
    const meant = closestWord(stranger, [...b.project.techniques.keys(), ...a.project.techniques.keys()]);
    const way = meant ? ` Did you mean ${meant}?` : '';
    printNotice(io, `--with: neither route has a technique ${sanitizeForTerminal(stranger)}.${way}`);
    return exitCodes.wrong;
  }
  const asked = asOfDay(request);
  const { report, logsOf } = withProgress(io, 'Comparing two routes', () =>
    compareRoutes(a, b, {
      asOf: asked,
      target: targetOption(request),
      with: extra,
      runner: request.values.get('runner'),
    }),
  );
  if (request.switches.has('json')) {
    printJson(io, compareJson(report));
    return exitCodes.fine;
  }
  const why =
    asked === undefined
      ? report.asOf === formatDate(0)
        ? 'nothing is logged'
        : 'the day after the last log entry'
      : 'as asked';
  const page = comparePage(report, {
    title: 'Two routes compared',
    basis: `For the morning of ${report.asOf}, ${why}.`,
    ...mergedNamesOf(a.project, b.project),
    logsOf,
  });
  printPage(io, page);
  return exitCodes.fine;
}

/** A route as it is asked for: a file, or `REVISION:FILE`. */
async function comparedRoute(written: string, request: Request, io: Io): Promise<ComparedRoute | InputError> {
  const runner = request.values.get('runner');
  const colon = written.indexOf(':');
  // A file of that very name, as a drive's letter makes one, is meant before a revision.
  const isFile = colon < 0 || (await exists(resolve(io.cwd, written)));
  if (isFile) return comparedFile(written, written, io, runner);
  const file = written.slice(colon + 1);
  const path = resolve(io.cwd, file);
  if (fileKindOf(basename(path)) !== 'route')
    return { message: `${sanitizeForTerminal(file)} is no route: its name would end in .route.yaml.` };
  if (!(await exists(dirname(path))))
    return { message: `${sanitizeForTerminal(file)} cannot be read: it does not exist.` };
  const today = (await exists(path)) ? await comparedFile(file, file, io, runner) : undefined;
  if (today !== undefined && isInputError(today)) return today;
  const revision = written.slice(0, colon);
  const former = await projectAtRevision(
    uriOf(path),
    (uri) => fileAtRevision(revision, pathOf(uri)),
    today?.project,
  );
  if ('message' in former)
    return { message: `${sanitizeForTerminal(written)} cannot be read: ${former.message}` };
  const own = runnerFilesOf(former.project, runner);
  if ('runners' in own) return { message: `Name one runner: --runner ${own.runners[0]}` };
  return { label: sanitizeForTerminal(written), project: former.project, own };
}

async function comparedFile(
  path: string,
  label: string,
  io: Io,
  runner: string | undefined,
): Promise<ComparedRoute | InputError> {
  const loaded = await loadFiles(io.cwd, [path]);
  if ('message' in loaded) return loaded;
  reportRefused(loaded, io);
  reportErrors(loaded, io, runner);
  const chosen = requireOneRoute(loaded, path, io, 'compare', runner);
  return 'message' in chosen ? chosen : { label: sanitizeForTerminal(label), ...chosen };
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
