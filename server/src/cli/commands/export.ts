import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { codeOf } from '../../disk/errorCode.ts';
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
import { formatCount, formatList } from '../../text/format.ts';
import type { SourceFile } from '../../workspace/project.ts';
import { exitCodeOf } from '../route/answer.ts';
import { type ChosenRoute, chooseRoute } from '../route/chooseRoute.ts';
import { type RankRequest, readRankRequest } from '../route/rankRequest.ts';
import { rankTask } from '../route/rankTask.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { type Io, printLines, printText, withProgress } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';

/** `routewright export`: practice, runs or the ranking as a table, or all of it as one JSON. */
export async function exportAnswer(request: Request, io: Io): Promise<CommandResult> {
  const parts = partsOf(request, io.cwd);
  if (isCliError(parts)) return parts;
  const json = request.switches.has('json');
  const asked: RankRequest = {
    ...readRankRequest({ ...request, paths: parts.paths }),
    verb: json ? 'export --json' : `export ${parts.named[0]!}`,
  };
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const to = request.values.get('to');
  const exported = json
    ? await jsonOf(parts.named, route, asked, io)
    : await tableTextOf(parts.named[0]!, route, asked, io, to !== undefined);
  if (isCliError(exported)) return exported;
  return (await write(exported, to, io)) ?? exitCodeOf(route, exported.empty);
}

interface Exported {
  readonly text: string;
  /** What a person is told that was written. */
  readonly what: string;
  /** Whether there was nothing to export. */
  readonly empty: boolean;
}

async function jsonOf(
  parts: readonly ExportPart[],
  route: ChosenRoute,
  asked: RankRequest,
  io: Io,
): Promise<Exported | CliError> {
  const ranking = parts.includes('ranking') ? await rankingOf(route, asked, io) : undefined;
  if (isCliError(ranking)) return ranking;
  const text = `${safeJson(exportJson(inputOf(route, ranking, io), parts))}\n`;
  return { text, what: formatList(parts), empty: false };
}

/** @param forFile whether the table goes into a file, and not onto the terminal or into a pipe */
async function tableTextOf(
  part: ExportPart,
  route: ChosenRoute,
  asked: RankRequest,
  io: Io,
  forFile: boolean,
): Promise<Exported | CliError> {
  const table = await tableOf(part, route, asked, io);
  if (isCliError(table)) return table;
  const { headings, rows } = table;
  const text = forFile
    ? // The mark tells a spreadsheet that the text is UTF-8; in a pipe it would be one more letter.
      `\uFEFF${writeTable(headings, rows)}`
    : writeTable(headings, rows.map(onOneLine), '\n');
  return { text, what: formatCount(rows.length, 'row'), empty: rows.length === 0 };
}

/** A row without line breaks in its cells: what is printed has a line for each row, which no text of a file can forge. */
function onOneLine(row: readonly TableCell[]): TableCell[] {
  return row.map((cell) => (typeof cell === 'string' ? sanitizeLine(cell) : cell));
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
    'Say what to export: routewright export practice, runs or ranking. Only --json can hold all three.',
  );
}

async function rankingOf(route: ChosenRoute, asked: RankRequest, io: Io): Promise<RankReport | CliError> {
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

async function tableOf(
  part: ExportPart,
  route: ChosenRoute,
  asked: RankRequest,
  io: Io,
): Promise<ExportTable | CliError> {
  const { project, own } = route;
  if (part === 'practice') return practiceTable(own.practice.map(({ reading }) => reading.value));
  if (part === 'runs')
    return runsTable(
      own.runs.map(({ reading }) => reading.value),
      project.segments.map(({ id }) => id),
    );
  const ranking = await rankingOf(route, asked, io);
  if (isCliError(ranking)) return ranking;
  const { rankingTable } = await import('../../reports/export/rankingTable.ts');
  return rankingTable(ranking, techniqueNamesOf(project));
}

/** Writes the text into the file that `--to` names, or to stdout. Undefined where that worked. */
async function write(
  { text, what }: Exported,
  to: string | undefined,
  io: Io,
): Promise<CliError | undefined> {
  if (to === undefined) {
    printText(io, text);
    return undefined;
  }
  try {
    // `wx`: a file that exists is never overwritten.
    await writeFile(resolve(io.cwd, to), text, { flag: 'wx' });
  } catch (error) {
    if (codeOf(error) === 'EEXIST')
      return cliError(`${to} exists already and is left as it is. Choose another name.`);
    return cliError(`${to} cannot be written: ${systemReason(error)}.`);
  }
  printLines(io, [`Written to ${to}: ${what}.`]);
  return undefined;
}
