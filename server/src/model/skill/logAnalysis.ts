/** The logs read technique by technique, taking from memory what still holds. */
import type { Constants } from '../core/constants.ts';
import { gatherEvidence } from './evidence.ts';
import type { Evidence, LossGrid } from './evidence.ts';
import { curveGrid } from './curveGrid.ts';
import type { CurveGrid } from './curveGrid.ts';
import { readHistory } from './practiceHistory.ts';
import type { PracticeHistory } from './practiceHistory.ts';
import type { CountLikelihoodTable } from './countLikelihood.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { Logs, PracticeEntry, RunEntry, TechniqueModel } from '../core/types.ts';

/** What one technique's own entries say. */
export interface LogAnalysis {
  readonly history: PracticeHistory;
  readonly evidence: Evidence | null;
  /** The curves that it is held against. */
  readonly grid: CurveGrid;
}

/** The curves for techniques that are new to the logs, and for those that were in the run before them. */
export interface CurveGrids {
  readonly fresh: CurveGrid;
  readonly headStart: CurveGrid;
}

/** Both grids of curves. */
export function buildCurveGrids(constants: Constants): CurveGrids {
  return { fresh: curveGrid(constants), headStart: curveGrid(constants, true) };
}

const readingName = 'reading';

/** Has a technique's blocks to come hold attempts at another pace, in memory alone. */
export function overridePace(cache: ModelCache, technique: string, pace: number): void {
  cache.forTechnique(technique).update<LogAnalysis>(readingName, (reading) => ({
    ...reading,
    history: { ...reading.history, pace },
  }));
}

function groupUpToDay<T extends PracticeEntry | RunEntry>(
  entries: readonly T[],
  asOfDay: number,
): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const entry of entries) {
    if (!(entry.day <= asOfDay)) continue;
    const group = groups.get(entry.technique);
    if (group === undefined) groups.set(entry.technique, [entry]);
    else group.push(entry);
  }
  return groups;
}

/** A technique's entries as text: equal texts are read alike. */
function signatureOf(
  technique: TechniqueModel,
  practice: readonly PracticeEntry[],
  runs: readonly RunEntry[],
): string {
  const uncounted = practice.length + runs.length === 0;
  // Without entries the state says whether there is a head start.
  const parts: (string | number)[] = [
    uncounted ? technique.state : '',
    technique.difficulty,
    technique.attemptSeconds,
    technique.reloadSeconds,
  ];
  for (const e of practice) {
    parts.push(
      'p',
      e.day,
      e.order,
      e.minutes,
      e.attempts ?? '-',
      e.counted?.landed ?? '-',
      e.counted?.tries ?? '-',
    );
  }
  for (const e of runs) parts.push('r', e.day, e.order, e.counted.landed, e.counted.tries);
  return parts.join(' ');
}

/**
 * Reads the logs up to a morning, technique by technique in the order given.
 *
 * @param techniques each of another id
 */
export function analyzeLogs(
  techniques: readonly TechniqueModel[],
  logs: Logs,
  asOfDay: number,
  constants: Constants,
  grids: CurveGrids,
  losses: LossGrid,
  cache: ModelCache,
): LogAnalysis[] {
  const practice = groupUpToDay(logs.practice, asOfDay);
  const runs = groupUpToDay(logs.runs, asOfDay);
  const tables = new Map<string, CountLikelihoodTable>();
  return techniques.map((technique) => {
    const blocks = practice.get(technique.id) ?? [];
    const tries = runs.get(technique.id) ?? [];
    const signature = signatureOf(technique, blocks, tries);
    return cache
      .forTechnique(technique.id)
      .getOrCompute(readingName, [signature, constants], (): LogAnalysis => {
        const history = readHistory(technique, blocks, tries, constants);
        const grid = history.headStart ? grids.headStart : grids.fresh;
        const evidence = gatherEvidence(history.days, technique.difficulty, grid, losses, constants, tables);
        return { history, evidence, grid };
      });
  });
}
