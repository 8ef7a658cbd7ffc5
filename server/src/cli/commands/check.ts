import { dayStartsOf } from '../../queries/dayStarts.ts';
import { checkReport, type LocatedFinding, locateFindings } from '../../reports/check/checkReport.ts';
import { checkPage, formatPosition } from '../../reports/check/checkText.ts';
import { type RuleDescription, sarifLog } from '../../reports/check/sarifLog.ts';
import { commentCodes, forecastRules, readingCodes, rules } from '../../rules/catalogue.ts';
import { sortFindings } from '../../rules/checkProject.ts';
import type { Severity } from '../../rules/engine/rule.ts';
import { formatCount } from '../../text/format.ts';
import { runnerFilesOrAll } from '../../workspace/runnerFiles.ts';
import { checkInParallel, type CheckOptions, type WorkerOptions } from '../checking/findings.ts';
import { misnamedFiles } from '../project/misnamedFiles.ts';
import { applyFixes } from '../checking/fix.ts';
import { type LoadedFiles, loadFiles } from '../project/loadFiles.ts';
import { datedLooksOf } from '../project/looks.ts';
import { unknownRunnerError } from '../project/requireOneRoute.ts';
import { kept } from '../route/remembered.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, printLines, printNotice, withProgressAsync } from '../terminal/io.ts';
import { asOfOption } from '../terminal/optionValues.ts';
import { relativeNames } from '../terminal/paths.ts';
import { printPage } from '../terminal/print.ts';
import { version } from '../terminal/version.ts';

const severityRank: Readonly<Record<Severity, number>> = { error: 2, warning: 1, hint: 0 };

/**
 * `routewright check`: what is wrong, where, and how to correct it. Returns the exit code.
 *
 * @param workers when to start threads for forecasts; default: where they save time
 */
export async function check(request: Request, io: Io, workers?: WorkerOptions): Promise<CommandResult> {
  const { switches, values, paths } = request;
  const machineOutput = switches.has('json') || switches.has('sarif');
  if (switches.has('json') && switches.has('sarif'))
    return cliError('Choose one of --json and --sarif: only one can stand on the standard output.');
  const loaded = await loadFiles(io, paths);
  if (isCliError(loaded)) return loaded;
  const selection = loaded.select();
  const files = selection.files.length;
  await tellLooks(loaded, values.get('runner'), io);
  const misnamed = await misnamedFiles(loaded.folders);
  if (files === 0 && misnamed.length === 0)
    return cliError(`There is no route, log, week or pool in ${paths.join(', ') || 'this folder'}.`);
  const runner = values.get('runner');
  const unknownRunner = unknownRunnerError(selection.projects, runner);
  if (unknownRunner) return unknownRunner;

  const nameOf = relativeNames(io.cwd);
  const options: CheckOptions = {
    day: { now: io.now(), asked: asOfOption(request) },
    runner,
    forecast: true,
    kept: (task, work) => kept(io, ['forecasts', task], work),
  };
  const findAll = () =>
    withProgressAsync(io, `Checking ${formatCount(files, 'file')}`, () =>
      checkInParallel(loaded.workspace, loaded.select(), options, workers),
    );
  let writeFailed = false;
  if (switches.has('fix')) {
    const { mended, failed, notices } = await applyFixes(loaded, async () => (await findAll()).findings);
    for (const sentence of [...failed, ...notices]) printNotice(io, sentence);
    writeFailed = failed.length > 0;
    const lines = mended.map(
      ({ uri, at, title }) => `${nameOf(uri)}:${formatPosition(at)}  mended  ${title}`,
    );
    const summary = [...lines, `${formatCount(mended.length, 'edit')} made.`];
    if (machineOutput) for (const line of summary) printNotice(io, line);
    else printLines(io, [...summary, '']);
  }

  const { findings, asOf } = await findAll();
  const textOf = (uri: string) => loaded.workspace.file(uri)?.reading.text;
  const located = locateFindings(sortFindings([...findings, ...misnamed]), textOf, nameOf);
  if (switches.has('json')) printJson(io, checkReport(located));
  else if (switches.has('sarif')) printJson(io, sarifLog(located, describedRules(), version));
  else printPage(io, checkPage(located, { files, asOf }));
  if (writeFailed || loaded.incomplete) return exitCodes.wrong;
  return fails(located, (values.get('fail-on') ?? 'error') as Severity) ? exitCodes.findings : exitCodes.fine;
}

/** Tells what the findings depend on besides the files: names that are nearly right, and today. */
async function tellLooks(
  { folders, workspace }: LoadedFiles,
  runner: string | undefined,
  io: Io,
): Promise<void> {
  if (io.looked === undefined) return;
  const looks = datedLooksOf(io);
  for (const folder of new Set(folders)) await looks.nearMisses(folder);
  const days = workspace
    .groups()
    .projects.map((project) => dayStartsOf(runnerFilesOrAll(project, runner).own));
  for (const dayStarts of new Set(days)) await looks.day(dayStarts);
}

function fails(findings: readonly LocatedFinding[], from: Severity): boolean {
  return findings.some(({ severity }) => severityRank[severity] >= severityRank[from]);
}

/** Every code that a finding can have, in alphabetical order. */
function describedRules(): RuleDescription[] {
  const reading = readingCodes.map(({ code, title }) => ({ code, title, severity: 'error' as const }));
  return [...rules, ...forecastRules, ...commentCodes, ...reading].sort((a, b) => (a.code < b.code ? -1 : 1));
}
