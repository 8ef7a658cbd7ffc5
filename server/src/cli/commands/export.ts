import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { systemReason } from '../../disk/systemReason.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { exportJson, type ExportInput, type ExportPart } from '../../reports/export/exportJson.ts';
import { exportParts } from '../descriptions/export.ts';
import { type ExportTable, practiceTable, runsTable } from '../../reports/export/logTables.ts';
import { safeJson } from '../../safeText/json.ts';
import { sanitizeLine } from '../../safeText/terminal.ts';
import { type TableCell, writeTable } from '../../tables/tableCells.ts';
import { closestWord } from '../../text/closestWord.ts';
import { formatCount } from '../../text/format.ts';
import type { SourceFile } from '../../workspace/project.ts';
import { type ChosenRoute, chooseRoute } from '../route/chooseRoute.ts';
import { readRankRequest } from '../route/rankRequest.ts';
import { rankTask } from '../route/rankTask.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printLines, printText, withProgress } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';

/** `routewright export`: practice, runs or the ranking as a table, or all of it as one JSON. */
export async function exportAnswer(request: Request, io: Io): Promise<CommandResult> {
  const parts = partsOf(request, io.cwd);
  if (isCliError(parts)) return parts;
  const json = request.switches.has('json');
  const asked = {
    ...readRankRequest({ ...request, paths: parts.paths }),
    verb: json ? 'export --json' : `export ${parts.named[0]!}`,
  };
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const ranking = parts.named.includes('ranking') ? await rankingOf(route, asked, io) : undefined;
  if (isCliError(ranking)) return ranking;
  const input = inputOf(route, ranking, io);
  if (json) {
    const text = `${safeJson(exportJson(input, parts.named))}\n`;
    return (await written(text, 'the export', request, io)) ?? codeOf(route, true);
  }
  const table = await tableOf(parts.named[0]!, input, route);
  const count = formatCount(table.rows.length, 'row');
  const to = request.values.get('to');
  const text =
    to === undefined
      ? writeTable(table.headings, table.rows.map(onOneLine), '\n')
      : // The mark tells a spreadsheet that the text is UTF-8; in a pipe it would be one more letter.
        `\uFEFF${writeTable(table.headings, table.rows)}`;
  return (await written(text, count, request, io)) ?? codeOf(route, table.rows.length > 0);
}

/** A row without line breaks in its cells: what is printed has a line for each row, which no text of a file can forge. */
function onOneLine(row: readonly TableCell[]): TableCell[] {
  return row.map((cell) => (typeof cell === 'string' ? sanitizeLine(cell) : cell));
}

function codeOf({ incomplete }: ChosenRoute, holdsSomething: boolean): number {
  if (incomplete) return exitCodes.wrong;
  return holdsSomething ? exitCodes.fine : exitCodes.findings;
}

interface Parts {
  readonly named: readonly ExportPart[];
  /** The files and folders that are given. */
  readonly paths: readonly string[];
}

/** Which parts the first word names; all of them for `--json` without one. */
function partsOf({ paths, switches }: Request, cwd: string): Parts | CliError {
  const [first, ...rest] = paths;
  const part = exportParts.find((one) => one === first);
  if (part !== undefined) return { named: [part], paths: rest };
  if (switches.has('json')) return { named: exportParts, paths };
  const meant =
    first === undefined || existsSync(resolve(cwd, first)) ? undefined : closestWord(first, exportParts);
  if (meant !== undefined) return cliError(`There is no table of ${first!}. Did you mean ${meant}?`);
  return cliError(
    'Say what: routewright export practice, export runs or export ranking. All of it goes into --json alone.',
  );
}

async function rankingOf(
  route: ChosenRoute,
  asked: ReturnType<typeof readRankRequest>,
  io: Io,
): Promise<RankReport | CliError> {
  const task = rankTask(route, asked);
  if (isCliError(task)) return task;
  const { rankWithCycles } = await import('../../reports/rank/rankWithCycles.ts');
  const progress = `Ranking ${formatCount(route.project.techniques.size, 'technique')}`;
  return withProgress(
    io,
    progress,
    () => rankWithCycles(task.modelInput, techniqueNamesOf(route.project), []).report,
  );
}

function inputOf({ project, own }: ChosenRoute, ranking: RankReport | undefined, io: Io): ExportInput {
  const nameOf = relativeNames(io.cwd);
  const logOf = ({ uri, reading }: SourceFile<unknown>) => ({ file: nameOf(uri), value: reading.value });
  const { uri, document } = project.route;
  return {
    route: { file: nameOf(uri), game: document.game ?? null, category: document.category ?? null },
    runner: own.runner,
    practice: own.practice.map(logOf),
    runs: own.runs.map(logOf),
    ranking,
  };
}

async function tableOf(part: ExportPart, input: ExportInput, { project }: ChosenRoute): Promise<ExportTable> {
  switch (part) {
    case 'practice':
      return practiceTable(input.practice.map(({ value }) => value));
    case 'runs':
      return runsTable(
        input.runs.map(({ value }) => value),
        project.segments.map(({ id }) => id),
      );
    case 'ranking':
      return (await import('../../reports/export/rankingTable.ts')).rankingTable(
        input.ranking!,
        techniqueNamesOf(project),
      );
  }
}

/** Writes the text into the file that `--to` names, or to stdout. Undefined where that worked. */
async function written(
  text: string,
  what: string,
  { values }: Request,
  io: Io,
): Promise<CliError | undefined> {
  const to = values.get('to');
  if (to === undefined) {
    printText(io, text);
    return undefined;
  }
  try {
    // `wx`: a file that exists is never overwritten.
    await writeFile(resolve(io.cwd, to), text, { flag: 'wx' });
  } catch (error) {
    if ((error as { readonly code?: string }).code === 'EEXIST')
      return cliError(`${to} exists already and is left as it is. Choose another name.`);
    return cliError(`${to} cannot be written: ${systemReason(error)}.`);
  }
  printLines(io, [`Written to ${to}: ${what}.`]);
  return undefined;
}
