import { isMap } from '../../files/yaml/value.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { rankJson } from '../rank/rankJson.ts';
import { type RawEntry, rawEntries } from './entryCells.ts';

/** What can be exported. */
export type ExportPart = 'practice' | 'runs' | 'ranking';

/** A log with its name for people. */
export interface NamedLog {
  readonly file: string;
  readonly value: RawEntry;
}

/** What an export is made of. The ranking is left out where nobody asks for it. */
export interface ExportInput {
  readonly route: {
    readonly file: string;
    readonly game: string | null;
    readonly category: string | null;
  };
  readonly runner: string | undefined;
  readonly practice: readonly NamedLog[];
  readonly runs: readonly NamedLog[];
  readonly ranking: RankReport | undefined;
}

/** Version of the shape, as schemas/export.schema.json describes it. */
const version = 1;

/**
 * Everything as one value. Sessions and runs are as they are written in the files: their shapes are those of
 * schemas/practice.schema.json and schemas/runs.schema.json.
 */
export function exportJson(
  { route, runner, practice, runs, ranking }: ExportInput,
  parts: readonly ExportPart[],
): unknown {
  return {
    version,
    route,
    runner: runner ?? null,
    ...(parts.includes('practice') && {
      practice: practice.map(({ file, value }) => ({
        file,
        ...notesOf(value),
        sessions: rawEntries(value.sessions),
      })),
    }),
    ...(parts.includes('runs') && {
      runs: runs.map(({ file, value }) => ({ file, ...notesOf(value), runs: rawEntries(value.runs) })),
    }),
    ...(ranking && { ranking: rankJson(ranking) }),
  };
}

/** What a file says besides its entries. */
function notesOf(value: RawEntry): RawEntry {
  return Object.fromEntries(
    Object.entries(isMap(value) ? value : {}).filter(([key]) => key === 'notes' || key.startsWith('x-')),
  );
}
