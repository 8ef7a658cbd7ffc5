import type { Practice, Runs } from '../../generated/types.ts';
import { parseMoment } from '../../text/calendar.ts';
import type {
  Block,
  Ending,
  PracticeDocument,
  Run,
  RunsDocument,
  Session,
  AttemptCounts,
  TechniqueAttempts,
} from './documents.ts';
import { EntryMapper } from './entryMapper.ts';
import type { Reading } from '../reading/reading.ts';
import { parseTime } from '../../text/time.ts';
import type { Path } from '../yaml/tree.ts';
import { indexedItems } from '../yaml/value.ts';

/** Makes the documents of logs; an entry that did not change is the same object in the next one. */
export class LogDocumentBuilder {
  private readonly sessions = new EntryMapper('sessions', (value, index) =>
    sessionOf(value as Practice.Session, ['sessions', index]),
  );
  private readonly runEntries = new EntryMapper('runs', (value, index) =>
    runOf(value as Runs.RunOrAnEveningOfRuns, ['runs', index]),
  );

  /**
   * The sessions that a reading of a practice file holds; those whose start is no date are left out.
   *
   * @param previous the reading of the same file before
   */
  practice(reading: Reading, previous?: Reading): PracticeDocument {
    const { route, runner } = reading.outer as Partial<Practice.PracticeFile>;
    return { route, runner, sessions: this.sessions.map(reading, previous) };
  }

  /** The runs that a reading of a runs file holds, in the same way. */
  runs(reading: Reading, previous?: Reading): RunsDocument {
    const { route, runner } = reading.outer as Partial<Runs.RunsFile>;
    return { route, runner, runs: this.runEntries.map(reading, previous) };
  }
}

/** The sessions that a reading of a practice file holds. */
export function buildPracticeDocument(reading: Reading): PracticeDocument {
  return new LogDocumentBuilder().practice(reading);
}

/** The runs that a reading of a runs file holds. */
export function buildRunsDocument(reading: Reading): RunsDocument {
  return new LogDocumentBuilder().runs(reading);
}

function sessionOf(session: Practice.Session, path: Path): Session | undefined {
  const start = parseMoment(session.start);
  if (!start) return undefined;
  const blocks = indexedItems(session.blocks).map(([at, block]) => blockOf(block, [...path, 'blocks', at]));
  return { path, start, blocks };
}

function blockOf(block: Practice.Block, path: Path): Block {
  return {
    path,
    technique: block.technique,
    segment: block.segment,
    minutes: block.minutes,
    landed: toAttemptCounts(block.landed),
    seen: toAttemptCounts(block.seen),
    attempts: block.attempts,
    tape: block.tape,
    tried: triedOf(block.tried, [...path, 'tried']),
  };
}

function runOf(run: Runs.RunOrAnEveningOfRuns, path: Path): Run | undefined {
  const kind = run.date === undefined ? 'run' : 'evening';
  const start = parseMoment(run.start ?? run.date ?? '');
  if (!start) return undefined;
  const endings = kind === 'run' ? endingOf(run.ended, path) : endingsOf(run.ended, path);
  const total = run.total === undefined ? undefined : parseTime(run.total);
  return {
    path,
    kind,
    start,
    times: Object.entries(run.times ?? {}).flatMap(([id, written]) => {
      const seconds = parseTime(written);
      return seconds === undefined ? [] : [{ id, seconds, path: [...path, 'times', id] }];
    }),
    total,
    tried: triedOf(run.tried, [...path, 'tried']),
    first: triedOf(run.first, [...path, 'first']),
    endings,
    minutes: run.minutes,
    started: kind === 'run' ? 1 : (run.runs ?? 0),
    finished: kind === 'run' ? (endings.length > 0 ? 0 : 1) : run.finished,
  };
}

type Why = Ending['why'];

function endingOf(ended: Runs.Ended | undefined, path: Path): Ending[] {
  const one: { readonly at?: string; readonly why?: Why; readonly by?: string } | undefined = ended;
  if (one?.at === undefined || one.why === undefined) return [];
  return [{ path: [...path, 'ended'], segment: one.at, why: one.why, by: one.by, runs: 1 }];
}

function endingsOf(ended: Runs.Ended | undefined, path: Path): Ending[] {
  return Object.entries((ended ?? {}) as Record<string, Partial<Record<Why, number>>>).flatMap(
    ([segment, counts]) =>
      Object.entries(counts).map(([why, runs]) => ({
        path: [...path, 'ended', segment],
        segment,
        why: why as Why,
        by: undefined,
        runs,
      })),
  );
}

function triedOf(
  tried: Readonly<Record<string, readonly number[]>> | undefined,
  path: Path,
): TechniqueAttempts[] {
  return Object.entries(tried ?? {}).flatMap(([name, counts]) => {
    const counted = toAttemptCounts(counts);
    if (!counted) return [];
    const [technique = name, use] = name.split('@');
    return [{ ...counted, technique, use, path: [...path, name] }];
  });
}

function toAttemptCounts(counts: readonly number[] | undefined): AttemptCounts | undefined {
  const [landed, tries] = counts ?? [];
  return landed === undefined || tries === undefined ? undefined : { landed, tries };
}
