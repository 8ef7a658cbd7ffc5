/** What ranking and assessing share: logs read, the runner inferred, the route laid out, the baseline chosen. */
import { baseline } from './baseline.ts';
import { resolveConstants } from './constants.ts';
import type { Constants } from './constants.ts';
import { layOut } from './course.ts';
import type { Course } from './course.ts';
import { gatherEvidence, lossGrid } from './evidence.ts';
import type { Evidence, LossGrid } from './evidence.ts';
import { curveGrid } from './grid.ts';
import type { CurveGrid } from './grid.ts';
import { readHistory } from './history.ts';
import type { History } from './history.ts';
import type { CountTable } from './likelihood.ts';
import { byText, finiteOr } from './numbers.ts';
import { expectInRun, practiceLogits } from './estimates.ts';
import { skillPosterior } from './posterior.ts';
import type { SkillPosterior } from './posterior.ts';
import { level, morningOf } from './practice.ts';
import { inferRunner } from './runner.ts';
import type { RunnerPosterior } from './runner.ts';
import { tabulate } from './scale.ts';
import type { RateTable } from './scale.ts';
import type { Logs, PracticeEntry, RankOptions, RouteModel, RunEntry, TechniqueModel } from './types.ts';
import { valueTechnique } from './worth.ts';
import type { TechniqueWorth } from './worth.ts';

/** Everything a ranking is made from. */
export interface RankInput {
  readonly route: RouteModel;
  readonly logs: Logs;
  /** The morning on which the question is asked: nights strictly before it have passed. Later entries do not count. */
  readonly asOfDay: number;
  readonly options: RankOptions;
  /** Constants to use in place of the defaults. */
  readonly constants?: Partial<Constants>;
}

/** What was worked out from one technique's own entries, with the text of those entries to tell whether it holds. */
export interface Remembered {
  readonly signature: string;
  readonly history: History;
  readonly evidence: Evidence | null;
  /** The curves that it is held against. */
  readonly grid: CurveGrid;
}

/**
 * Kept by the caller between rankings of one route: after a new block only that technique's likelihood is worked
 * out again. Holds one entry a technique and drops those no longer in the route.
 */
export type RankCache = Map<string, Remembered>;

/** One technique with all that is known about it. */
export interface Subject {
  readonly technique: TechniqueModel;
  readonly history: History;
  readonly evidence: Evidence | null;
  readonly posterior: SkillPosterior;
  /** ln(1 + E/unit) on the morning asked about. */
  readonly levelNow: number;
  /** Log odds in practice of every curve of the posterior at that level. */
  readonly logitsNow: Float64Array;
}

export interface Prepared {
  readonly constants: Constants;
  readonly grid: CurveGrid;
  readonly losses: LossGrid;
  readonly runner: RunnerPosterior;
  readonly course: Course;
  /** By id, in order of id. */
  readonly subjects: ReadonlyMap<string, Subject>;
  /** The landing rate itself as a table, for expectations of it. */
  readonly rates: RateTable;
  /** The value of a technique against what is used now. */
  readonly valueOf: (technique: string) => TechniqueWorth;
}

function byTechnique<T extends PracticeEntry | RunEntry>(
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

function signatureOf(
  technique: TechniqueModel,
  practice: readonly PracticeEntry[],
  runs: readonly RunEntry[],
  constants: string,
): string {
  const uncounted = practice.length + runs.length === 0;
  // Without entries the state says whether there is a head start.
  const parts: (string | number)[] = [
    constants,
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

/** The curves for techniques that are new to the logs, and for those that were in the run before them. */
interface Grids {
  readonly fresh: CurveGrid;
  readonly headStart: CurveGrid;
}

/** Reads the logs technique by technique, taking from the cache what still holds. */
function remember(
  techniques: readonly TechniqueModel[],
  input: RankInput,
  constants: Constants,
  grids: Grids,
  losses: LossGrid,
  cache: RankCache,
): void {
  const practice = byTechnique(input.logs.practice, input.asOfDay);
  const runs = byTechnique(input.logs.runs, input.asOfDay);
  const tables = new Map<string, CountTable>();
  const constantsText = JSON.stringify(constants);
  for (const technique of techniques) {
    const blocks = practice.get(technique.id) ?? [];
    const tries = runs.get(technique.id) ?? [];
    const signature = signatureOf(technique, blocks, tries, constantsText);
    if (cache.get(technique.id)?.signature === signature) continue;
    const history = readHistory(technique, blocks, tries, constants);
    const grid = history.headStart ? grids.headStart : grids.fresh;
    const evidence = gatherEvidence(history.days, technique.difficulty, grid, losses, constants, tables);
    cache.set(technique.id, { signature, history, evidence, grid });
  }
  const present = new Set(techniques.map((t) => t.id));
  for (const id of [...cache.keys()]) if (!present.has(id)) cache.delete(id);
}

/** Works out all that ranking and assessing start from. Techniques are taken in order of id; a second of one id is left out. */
export function prepare(input: RankInput, cache: RankCache = new Map()): Prepared {
  const constants = resolveConstants(input.constants);
  const grids: Grids = { fresh: curveGrid(constants), headStart: curveGrid(constants, true) };
  const losses = lossGrid(constants);
  const asOfDay = finiteOr(input.asOfDay, 0);
  const byId = new Map<string, TechniqueModel>();
  for (const t of input.route.techniques) if (!byId.has(t.id)) byId.set(t.id, t);
  const techniques = [...byId.values()].sort((a, b) => byText(a.id, b.id));
  remember(techniques, input, constants, grids, losses, cache);

  const members = techniques.map((technique) => {
    const known = cache.get(technique.id);
    const history = known?.history ?? readHistory(technique, [], [], constants);
    const grid = history.headStart ? grids.headStart : grids.fresh;
    const informs = !history.headStart || history.days.some((day) => !day.inRun);
    const evidence = known?.evidence ?? null;
    return { technique, difficulty: technique.difficulty, history, grid, evidence, informs };
  });
  const runner = inferRunner(members, grids.fresh, losses, constants);
  const subjects = new Map<string, Subject>();
  // Nothing but the difficulty tells techniques apart that were never counted: they share one posterior.
  const uncounted = new Map<string, SkillPosterior>();
  members.forEach((member, number) => {
    const alike = `${member.difficulty} ${member.history.headStart}`;
    const shared = member.evidence === null ? uncounted.get(alike) : undefined;
    const posterior = shared ?? skillPosterior(member, number, runner, member.grid, losses);
    if (member.evidence === null) uncounted.set(alike, posterior);
    const levelNow = level(morningOf(member.history.state, asOfDay, constants).effective, constants);
    subjects.set(member.technique.id, {
      ...member,
      posterior,
      levelNow,
      logitsNow: practiceLogits(posterior, levelNow),
    });
  });

  const course = layOut(input.route);
  const rates = tabulate((rate) => rate, constants.rateFloor);
  const inRun = new Map<string, number>();
  for (const [id, { technique, posterior, logitsNow }] of subjects) {
    if (technique.state === 'in-run') inRun.set(id, expectInRun(posterior, logitsNow, rates));
  }
  const rateOf = (technique: string): number => inRun.get(technique) ?? 0;
  const common = baseline(course, (t) => inRun.has(t), rateOf, constants);
  const valueOf = (technique: string): TechniqueWorth => {
    const others = (t: string): boolean => t !== technique && inRun.has(t);
    const base = inRun.has(technique) ? baseline(course, others, rateOf, constants) : common;
    return valueTechnique(course, technique, base, others, rateOf, constants);
  };
  return { constants, grid: grids.fresh, losses, runner, course, subjects, rates, valueOf };
}
