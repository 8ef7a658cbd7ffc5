/** Invented routes and logs for tests of the model, from a seed, so that every test run has the same ones. */
import type {
  Logs,
  PracticeEntry,
  RankOptions,
  RouteModel,
  RunEntry,
  SegmentModel,
  TechniqueModel,
  UseModel,
} from '../../server/src/model/core/types.ts';

export const plainOptions: RankOptions = { blockMinutes: 25, confidence: 0.8, all: false };

/** A small seeded generator of numbers in [0, 1) (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function technique(id: string, more: Partial<TechniqueModel> = {}): TechniqueModel {
  return { id, difficulty: 4, needs: [], attemptSeconds: 4, reloadSeconds: 1, state: 'unlearned', ...more };
}

export function use(of: string, saves: number, loses: number, more: Partial<UseModel> = {}): UseModel {
  return {
    id: of,
    technique: of,
    saves: { mean: saves, sd: 0 },
    misses: [{ chance: 1, loses, endsRun: false }],
    retrySeconds: 0,
    maxTries: 1,
    costs: 0,
    ...more,
  };
}

export function segment(
  id: string,
  time: number,
  uses: UseModel[],
  more: Partial<SegmentModel> = {},
): SegmentModel {
  return { id, time, spread: 1, survive: 1, luck: [], uses, ...more };
}

export function route(segments: SegmentModel[], techniques: TechniqueModel[]): RouteModel {
  return { segments, techniques, restart: 14 };
}

export const noLogs: Logs = { practice: [], runs: [] };

export function block(
  of: string,
  day: number,
  landed: number,
  tries: number,
  more: Partial<PracticeEntry> = {},
): PracticeEntry {
  return {
    technique: of,
    day,
    order: 0,
    minutes: tries / 12,
    attempts: tries,
    counted: { landed, tries },
    ...more,
  };
}

export function runTries(of: string, day: number, landed: number, tries: number): RunEntry {
  return { technique: of, day, order: 1000, counted: { landed, tries } };
}

/** A route of `count` techniques, three to a segment, with logs of `blocks` blocks and some evenings of runs. */
export function largeCase(count: number, blocks: number, seed: number): { route: RouteModel; logs: Logs } {
  const random = seeded(seed);
  const techniques: TechniqueModel[] = [];
  const segments: SegmentModel[] = [];
  for (let i = 0; i < count; i++) {
    const needs = i > 3 && random() < 0.2 ? [`t${i - 1 - Math.floor(random() * 3)}`] : [];
    const state = random() < 0.3 ? 'in-run' : 'unlearned';
    techniques.push(technique(`t${i}`, { difficulty: 1 + Math.floor(random() * 9), needs, state }));
    const each = use(`t${i}`, 1 + 8 * random(), 0.5 + 4 * random());
    if (i % 3 === 0) segments.push(segment(`s${i}`, 60 + 60 * random(), [], { survive: 0.99 }));
    segments[segments.length - 1] = {
      ...segments[segments.length - 1]!,
      uses: [...segments[segments.length - 1]!.uses, each],
    };
  }
  const practice: PracticeEntry[] = [];
  const runs: RunEntry[] = [];
  for (let b = 0; b < blocks; b++) {
    const of = Math.floor(random() * count * 0.8);
    const tries = 40 + Math.floor(random() * 200);
    const landed = Math.floor(tries * random());
    practice.push(block(`t${of}`, Math.floor((b * 60) / blocks), landed, tries, { order: b, minutes: 25 }));
  }
  techniques.forEach((t) => {
    if (t.state !== 'in-run') return;
    for (let day = 0; day < 60; day += 6) runs.push(runTries(t.id, day, Math.floor(random() * 9), 10));
  });
  return { route: route(segments, techniques), logs: { practice, runs } };
}
