/** Analyses the logs technique by technique and reuses cached results for techniques whose entries did not change. */
import type { Constants } from '../core/constants.ts';
import { gatherEvidence } from './evidence.ts';
import type { Evidence, LossGrid } from './evidence.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { curveGrid, shapedBy } from './curveGrid.ts';
import type { CurveGrid } from './curveGrid.ts';
import type { GridKind } from './curveShapes.ts';
import { readHistory } from './practiceHistory.ts';
import type { PracticeHistory } from './practiceHistory.ts';
import { countTablesIn } from './countTables.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { ratingKey, shapeKey } from '../core/rated.ts';
import type { Rated } from '../core/rated.ts';
import type { Logs, PracticeEntry, RunEntry, TechniqueModel } from '../core/types.ts';

/** The results of analysing one technique's own entries. */
export interface LogAnalysis {
  /** Its own entries. */
  readonly log: Logs;
  readonly history: PracticeHistory;
  readonly evidence: Evidence | null;
  /** The learning curves that its counts are compared with. */
  readonly grid: CurveGrid;
}

/**
 * The grids for techniques first learned within the logs, with and without counts, and the one for techniques that were
 * in the run before the logs began. All have the same slots.
 */
export type CurveGrids = Readonly<Record<GridKind, CurveGrid>>;

/** Builds all grids. */
export function buildCurveGrids(constants: Constants): CurveGrids {
  return {
    counted: curveGrid(constants),
    uncounted: curveGrid(constants, 'uncounted'),
    headStart: curveGrid(constants, 'headStart'),
  };
}

/** Which curves a technique is compared with. */
function gridKindOf({ headStart, days }: PracticeHistory): GridKind {
  if (headStart) return 'headStart';
  return days.length > 0 ? 'counted' : 'uncounted';
}

/** The grid of a technique, by what other runners' practice says of its curve. Techniques with the same word share one. */
function shapedGrid(grid: CurveGrid, { others }: Rated, constants: Constants, shared: MemoCache): CurveGrid {
  if (others === undefined) return grid;
  const grids = shared.getOrCompute('shaped grids', [constants], () => new MemoCache());
  return grids.getOrCompute(`${grid.kind} ${shapeKey(others.shape)}`, [grid], () =>
    shapedBy(grid, others.shape, constants),
  );
}

const analysisName = 'reading';

/** Changes the pace that a technique's future blocks are forecast with. Only the cache is changed, not the logs. */
export function overridePace(cache: ModelCache, technique: string, pace: number): void {
  cache.forTechnique(technique).update<LogAnalysis>(analysisName, (analysis) => ({
    ...analysis,
    history: { ...analysis.history, pace },
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

/** A technique's entries as text. Equal texts give the same analysis. */
export function entriesSignature(
  technique: TechniqueModel,
  practice: readonly PracticeEntry[],
  runs: readonly RunEntry[],
): string {
  const uncounted = practice.length + runs.length === 0;
  // Without entries, the state of the technique decides whether it has a head start.
  const parts: (string | number)[] = [
    uncounted ? technique.state : '',
    ratingKey(technique),
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
 * Analyses the logs up to a morning, technique by technique in the given order, each in a step.
 *
 * @param techniques techniques with distinct ids
 */
export function* analyzeLogsInSteps(
  techniques: readonly TechniqueModel[],
  logs: Logs,
  asOfDay: number,
  constants: Constants,
  grids: CurveGrids,
  losses: LossGrid,
  cache: ModelCache,
): Steps<LogAnalysis[]> {
  const practice = groupUpToDay(logs.practice, asOfDay);
  const runs = groupUpToDay(logs.runs, asOfDay);
  const tables = countTablesIn(cache.shared, constants);
  return yield* mapInSteps(techniques, (technique) => {
    const blocks = practice.get(technique.id) ?? [];
    const tries = runs.get(technique.id) ?? [];
    const signature = entriesSignature(technique, blocks, tries);
    return cache
      .forTechnique(technique.id)
      .getOrCompute(analysisName, [signature, constants], (): LogAnalysis => {
        const history = readHistory(technique, blocks, tries, constants);
        const grid = shapedGrid(grids[gridKindOf(history)], technique, constants, cache.shared);
        const evidence = gatherEvidence(history.days, technique, grid, losses, constants, tables);
        return { log: { practice: blocks, runs: tries }, history, evidence, grid };
      });
  });
}
