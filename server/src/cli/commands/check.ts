import { checkReport, locateFindings, type LocatedFinding } from '../../reports/check/checkReport.ts';
import { checkText, formatPosition } from '../../reports/check/checkText.ts';
import { formatCount } from '../../text/format.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { sarifLog, type RuleDescription } from '../../reports/check/sarifLog.ts';
import { commentCodes, forecastRules, readingCodes, rules } from '../../rules/catalogue.ts';
import type { Severity } from '../../rules/engine/rule.ts';
import { asOfDay, type Request } from '../terminal/arguments.ts';
import { checkInParallel, unknownRunnerMessage, type WorkerOptions } from './findings.ts';
import { applyFixes } from './fix.ts';
import { reportRefused } from '../terminal/reportRefused.ts';
import { exitCodes, printJson, printNotice, withProgressAsync, type Io } from '../terminal/io.ts';
import { styleOf } from '../terminal/print.ts';
import { loadFiles } from '../project/loadFiles.ts';
import { relativeNames } from '../terminal/paths.ts';
import { version } from '../terminal/version.ts';

const severityRank: Readonly<Record<Severity, number>> = { error: 2, warning: 1, hint: 0 };

/**
 * `routewright check`: what is wrong, where, and how to mend it. Returns the exit code.
 *
 * @param sharing when to start threads for forecasts; left out: where it pays
 */
export async function check(request: Request, io: Io, sharing?: WorkerOptions): Promise<number> {
  const { switches, values, paths } = request;
  const machine = switches.has('json') || switches.has('sarif');
  if (switches.has('json') && switches.has('sarif')) {
    printNotice(io, 'Choose one of --json and --sarif: only one can stand on the standard output.');
    return exitCodes.wrong;
  }
  const loaded = await loadFiles(io.cwd, paths);
  if ('message' in loaded) {
    printNotice(io, loaded.message);
    return exitCodes.wrong;
  }
  reportRefused(loaded, io);
  const selection = loaded.select();
  const files = selection.files.length;
  if (files === 0) {
    if (loaded.refused.length === 0)
      printNotice(io, `There is no route, log or week in ${paths.join(', ') || 'this folder'}.`);
    return exitCodes.wrong;
  }
  const runner = values.get('runner');
  const stranger = unknownRunnerMessage(selection.projects, runner);
  if (stranger !== undefined) {
    printNotice(io, stranger);
    return exitCodes.wrong;
  }

  const nameOf = relativeNames(io.cwd);
  const lookFor = { asked: asOfDay(request), runner, forecast: true };
  const look = () =>
    withProgressAsync(io, `Checking ${formatCount(files, 'file')}`, () =>
      checkInParallel(loaded.workspace, loaded.select(), lookFor, sharing),
    );
  let unwritten = false;
  if (switches.has('fix')) {
    const { mended, failed } = await applyFixes(loaded, async () => (await look()).findings);
    for (const sentence of failed) printNotice(io, sentence);
    unwritten = failed.length > 0;
    const lines = mended.map(
      ({ uri, at, title }) => `${nameOf(uri)}:${formatPosition(at)}  mended  ${sanitizeForTerminal(title)}`,
    );
    const said = [...lines, `${formatCount(mended.length, 'edit')} made.`, ''].join('\n');
    (machine ? io.stderr : io.stdout).write(`${said}${machine ? '' : '\n'}`);
  }

  const { findings, asOf } = await look();
  const textOf = (uri: string) => loaded.workspace.file(uri)?.reading.text;
  const placed = locateFindings(findings, textOf, nameOf);
  if (switches.has('json')) printJson(io, checkReport(placed));
  else if (switches.has('sarif')) printJson(io, sarifLog(placed, describedRules(), version));
  else {
    const style = styleOf(io);
    io.stdout.write(checkText(placed, { files, asOf }, style));
  }
  if (unwritten || loaded.refused.length > 0) return exitCodes.wrong;
  return fails(placed, (values.get('fail-on') ?? 'error') as Severity) ? exitCodes.findings : exitCodes.fine;
}

function fails(findings: readonly LocatedFinding[], from: Severity): boolean {
  return findings.some(({ severity }) => severityRank[severity] >= severityRank[from]);
}

/** Every code that a finding can have, in order of its name. */
function describedRules(): RuleDescription[] {
  const reading = readingCodes.map(({ code, title }) => ({ code, title, severity: 'error' as const }));
  return [...rules, ...forecastRules, ...commentCodes, ...reading].sort((a, b) => (a.code < b.code ? -1 : 1));
}
