import { access } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { kindOf } from '../../files/fileKind.ts';
import { formatDate } from '../../text/calendar.ts';
import { nearest } from '../../text/closestWord.ts';
import { fileAt } from '../../git/revision.ts';
import { compareJson } from '../../reports/compare/compareReport.ts';
import { comparePage } from '../../reports/compare/compareText.ts';
import { plainText } from '../../text/terminalText.ts';
import { formerProject } from '../../queries/projectAtRevision.ts';
import { compareRoutes, type Compared } from '../../reports/compare/comparison.ts';
import { namesOfBoth } from '../../queries/names.ts';
import { currentId } from '../../workspace/project.ts';
import { ownPart } from '../../workspace/runnerFiles.ts';
import { askedTarget, asOfDay, type Request } from '../terminal/arguments.ts';
import { exit, printJson, tell, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { load, type Unusable } from '../project/loadFiles.ts';
import { pathOf, uriOf } from '../terminal/paths.ts';
import { tellRefused } from '../terminal/reportRefused.ts';
import { isUnusable, oneRoute, tellErrors } from '../project/chosenRoute.ts';

/** `routewright compare A B`: two routes, or one at two revisions. Returns the exit code. */
export async function compare(request: Request, io: Io): Promise<number> {
  const [first, second, ...more] = request.paths;
  if (first === undefined || second === undefined || more.length > 0) {
    tell(io, 'Two routes are compared: routewright compare A B. Either can be REVISION:FILE.');
    return exit.wrong;
  }
  const a = await sideOf(first, request, io);
  const b = isUnusable(a) ? a : await sideOf(second, request, io);
  if (isUnusable(a) || isUnusable(b)) {
    tell(io, isUnusable(b) ? b.message : '');
    return exit.wrong;
  }
  const extra = request.lists.get('with') ?? [];
  const stranger = extra.find((id) => [a, b].every(({ project }) => currentId(project, id) === undefined));
  if (stranger !== undefined) {
    const meant = nearest(stranger, [...b.project.techniques.keys(), ...a.project.techniques.keys()]);
    const way = meant ? ` Did you mean ${meant}?` : '';
    tell(io, `--with: neither route has a technique ${plainText(stranger)}.${way}`);
    return exit.wrong;
  }
  const asked = asOfDay(request);
  const { report, logsOf } = withProgress(io, 'Comparing two routes', () =>
    compareRoutes(a, b, {
      asOf: asked,
      target: askedTarget(request),
      with: extra,
      runner: request.values.get('runner'),
    }),
  );
  if (request.switches.has('json')) {
    printJson(io, compareJson(report));
    return exit.fine;
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
    ...namesOfBoth(a.project, b.project),
    logsOf,
  });
  printPage(io, page);
  return exit.fine;
}

/** A route as it is asked for: a file, or `REVISION:FILE`. */
async function sideOf(written: string, request: Request, io: Io): Promise<Compared | Unusable> {
  const runner = request.values.get('runner');
  const colon = written.indexOf(':');
  // A file of that very name, as a drive's letter makes one, is meant before a revision.
  const isFile = colon < 0 || (await exists(resolve(io.cwd, written)));
  if (isFile) return fileSide(written, written, io, runner);
  const file = written.slice(colon + 1);
  const path = resolve(io.cwd, file);
  if (kindOf(basename(path)) !== 'route')
    return { message: `${plainText(file)} is no route: its name would end in .route.yaml.` };
  if (!(await exists(dirname(path))))
    return { message: `${plainText(file)} cannot be read: it does not exist.` };
  const today = (await exists(path)) ? await fileSide(file, file, io, runner) : undefined;
  if (today !== undefined && isUnusable(today)) return today;
  const revision = written.slice(0, colon);
  const former = await formerProject(uriOf(path), (uri) => fileAt(revision, pathOf(uri)), today?.project);
  if ('message' in former) return { message: `${plainText(written)} cannot be read: ${former.message}` };
  const own = ownPart(former.project, runner);
  if ('runners' in own) return { message: `Name one runner: --runner ${own.runners[0]}` };
  return { label: plainText(written), project: former.project, own };
}

async function fileSide(
  path: string,
  label: string,
  io: Io,
  runner: string | undefined,
): Promise<Compared | Unusable> {
  const loaded = await load(io.cwd, [path]);
  if ('message' in loaded) return loaded;
  tellRefused(loaded, io);
  tellErrors(loaded, io, runner);
  const chosen = oneRoute(loaded, path, io, 'compare', runner);
  return 'message' in chosen ? chosen : { label: plainText(label), ...chosen };
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
