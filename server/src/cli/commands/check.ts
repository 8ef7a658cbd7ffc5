import { checkReport, placeFindings, type PlacedFinding } from '../../reports/check/checkReport.ts';
import { checkText, spoken } from '../../reports/check/checkText.ts';
import { counted } from '../../text/format.ts';
import { plainText } from '../../text/terminalText.ts';
import { sarifLog, type RuleDescription } from '../../reports/check/sarifLog.ts';
import { commentCodes, forecastRules, readingCodes, rules } from '../../rules/catalogue.ts';
import type { Severity } from '../../rules/engine/rule.ts';
import { asOfDay, type Request } from '../terminal/arguments.ts';
import { findTogether, unknownRunner, type Sharing } from './findings.ts';
import { applyFixes } from './fix.ts';
import { tellRefused } from '../terminal/reportRefused.ts';
import { exit, printJson, tell, withProgressUntil, type Io } from '../terminal/io.ts';
import { styleOf } from '../terminal/print.ts';
import { load } from '../project/loadFiles.ts';
import { nameFrom } from '../terminal/paths.ts';
import { version } from '../terminal/version.ts';

const weight: Readonly<Record<Severity, number>> = { error: 2, warning: 1, hint: 0 };

/**
 * `routewright check`: what is wrong, where, and how to mend it. Returns the exit code.
 *
 * @param sharing when to start threads for forecasts; left out: where it pays
 */
export async function check(request: Request, io: Io, sharing?: Sharing): Promise<number> {
  const { switches, values, paths } = request;
  const machine = switches.has('json') || switches.has('sarif');
  if (switches.has('json') && switches.has('sarif')) {
    tell(io, 'Choose one of --json and --sarif: only one can stand on the standard output.');
    return exit.wrong;
  }
  const loaded = await load(io.cwd, paths);
  if ('message' in loaded) {
    tell(io, loaded.message);
    return exit.wrong;
  }
  tellRefused(loaded, io);
  const selection = loaded.select();
  const files = selection.files.length;
  if (files === 0) {
    if (loaded.refused.length === 0)
      tell(io, `There is no route, log or week in ${paths.join(', ') || 'this folder'}.`);
    return exit.wrong;
  }
  const runner = values.get('runner');
  const stranger = unknownRunner(selection.projects, runner);
  if (stranger !== undefined) {
    tell(io, stranger);
    return exit.wrong;
  }

  const nameOf = nameFrom(io.cwd);
  const lookFor = { asked: asOfDay(request), runner, forecast: true };
  const look = () =>
    withProgressUntil(io, `Checking ${counted(files, 'file')}`, () =>
      findTogether(loaded.workspace, loaded.select(), lookFor, sharing),
    );
  let unwritten = false;
  if (switches.has('fix')) {
    const { mended, failed } = await applyFixes(loaded, async () => (await look()).findings);
    for (const sentence of failed) tell(io, sentence);
    unwritten = failed.length > 0;
    const lines = mended.map(
      ({ uri, at, title }) => `${nameOf(uri)}:${spoken(at)}  mended  ${plainText(title)}`,
    );
    const said = [...lines, `${counted(mended.length, 'edit')} made.`, ''].join('\n');
    (machine ? io.stderr : io.stdout).write(`${said}${machine ? '' : '\n'}`);
  }

  const { findings, asOf } = await look();
  const textOf = (uri: string) => loaded.workspace.file(uri)?.reading.text;
  const placed = placeFindings(findings, textOf, nameOf);
  if (switches.has('json')) printJson(io, checkReport(placed));
  else if (switches.has('sarif')) printJson(io, sarifLog(placed, describedRules(), version));
  else {
    const style = styleOf(io);
    io.stdout.write(checkText(placed, { files, asOf }, style));
  }
  if (unwritten || loaded.refused.length > 0) return exit.wrong;
  return fails(placed, (values.get('fail-on') ?? 'error') as Severity) ? exit.findings : exit.fine;
}

function fails(findings: readonly PlacedFinding[], from: Severity): boolean {
  return findings.some(({ severity }) => weight[severity] >= weight[from]);
}

/** Every code that a finding can have, in order of its name. */
function describedRules(): RuleDescription[] {
  const reading = readingCodes.map(({ code, title }) => ({ code, title, severity: 'error' as const }));
  return [...rules, ...forecastRules, ...commentCodes, ...reading].sort((a, b) => (a.code < b.code ? -1 : 1));
}
