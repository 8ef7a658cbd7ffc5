/** The route in the form in which it is valued: for each segment its usual time and survival, and the choices in it. */
import { clamp, finiteOr } from '../core/numbers.ts';
import type { RouteModel, SegmentModel, UseModel } from '../core/types.ts';
import { summarizeUse } from './averageEffect.ts';
import type { UseSummary } from './averageEffect.ts';
import { trackItems } from './trackedItems.ts';
import type { TrackedItems } from './trackedItems.ts';

/** One way to play a choice: a use, with or without its backup after a miss. */
export interface PlayOption {
  readonly use: UseModel;
  readonly plain: UseSummary;
  readonly technique: string;
  /** Technique tried after a miss, and the numbers of its use there; null without a backup. */
  readonly backup: string | null;
  readonly backupPlain: UseSummary | null;
}

/** A place where at most one option is played: a spot, or a single use without a spot. */
export interface Choice {
  readonly segment: number;
  readonly options: readonly PlayOption[];
}

export interface RouteLayout {
  /** Usual seconds of each segment, mean luck included. */
  readonly times: Float64Array;
  /** Chance that the run survives each segment when no technique is tried. */
  readonly survival: Float64Array;
  readonly choices: readonly Choice[];
  /** Numbers of the choices in which each technique can be played, itself or as a backup. */
  readonly choicesByTechnique: ReadonlyMap<string, readonly number[]>;
  /** Numbers of the choices in each segment. */
  readonly choicesInSegment: readonly (readonly number[])[];
  readonly restart: number;
  /** Segments in which an item is taken or needed, by item. */
  readonly itemSegments: ReadonlyMap<string, readonly number[]>;
  /** Whether an item is taken or needed in each segment. */
  readonly tied: readonly boolean[];
  readonly items: TrackedItems;
}

/** Smallest survival of a segment; with survival 0 every expected time would be infinite. */
const leastSurvival = 1e-4;

function meanTime(segment: SegmentModel): number {
  let time = Math.max(0, finiteOr(segment.time, 0));
  for (const luck of segment.luck) time += clamp(luck.chance, 0, 1) * finiteOr(luck.adds, 0);
  return time;
}

/**
 * The use whose numbers apply to `technique` as a backup of the use `of`: one in the same spot, else one in the
 * same segment, else the first in the route.
 */
function backupUse(route: RouteModel, segment: SegmentModel, of: UseModel, technique: string) {
  const here = segment.uses.filter((use) => use.technique === technique);
  return (
    here.find((use) => use.spot !== undefined && use.spot === of.spot) ??
    here[0] ??
    route.segments.flatMap((s) => s.uses).find((use) => use.technique === technique)
  );
}

function optionsOf(route: RouteModel, segment: SegmentModel, use: UseModel): PlayOption[] {
  const plain = summarizeUse(use);
  const alone: PlayOption = { use, plain, technique: use.technique, backup: null, backupPlain: null };
  if (use.backup === undefined) return [alone];
  const other = use.backupUse ?? backupUse(route, segment, use, use.backup);
  if (other === undefined) return [alone];
  return [
    alone,
    { ...alone, backup: use.backup, backupPlain: summarizeUse({ ...use, ...other, maxTries: 1, costs: 0 }) },
  ];
}

function byTechniqueOf(choices: readonly Choice[]): Map<string, number[]> {
  const found = new Map<string, number[]>();
  choices.forEach(({ options }, c) => {
    const named = new Set(options.flatMap(({ technique, backup }) => [technique, backup ?? []].flat()));
    for (const technique of named) found.set(technique, [...(found.get(technique) ?? []), c]);
  });
  return found;
}

/** Lays out a route. Numbers out of range are limited to the valid range; no error is thrown. */
export function layOutRoute(route: RouteModel): RouteLayout {
  const choices: Choice[] = [];
  const inSegment: number[][] = [];
  const itemSegments = new Map<string, number[]>();
  route.segments.forEach((segment, s) => {
    const spots = new Map<string, PlayOption[]>();
    const here: number[] = [];
    for (const use of segment.uses) {
      const options = optionsOf(route, segment, use);
      for (const item of [use.take, use.with]) {
        if (item !== undefined) itemSegments.set(item, [...(itemSegments.get(item) ?? []), s]);
      }
      const shared = use.spot === undefined ? undefined : spots.get(use.spot);
      if (shared !== undefined) {
        shared.push(...options);
        continue;
      }
      if (use.spot !== undefined) spots.set(use.spot, options);
      here.push(choices.length);
      choices.push({ segment: s, options });
    }
    inSegment.push(here);
  });
  const tied = new Set([...itemSegments.values()].flat());
  return {
    times: Float64Array.from(route.segments, meanTime),
    survival: Float64Array.from(route.segments, (segment) =>
      clamp(finiteOr(segment.survive, 1), leastSurvival, 1),
    ),
    choices,
    choicesByTechnique: byTechniqueOf(choices),
    choicesInSegment: inSegment,
    restart: Math.max(0, finiteOr(route.restart, 0)),
    itemSegments,
    tied: route.segments.map((_, s) => tied.has(s)),
    items: trackItems(choices, route.segments.length),
  };
}
