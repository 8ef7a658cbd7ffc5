import { parse } from 'yaml';

/** What the simulation needs of one use of a technique; seconds. */
export interface Use {
  /** The name in the logs: the technique, or technique@use. */
  readonly name: string;
  readonly technique: string;
  readonly saves: number;
  readonly loses: number;
  readonly retry: number;
  readonly maxTries: number;
}

export interface Segment {
  readonly id: string;
  readonly time: number;
  readonly spread: number;
  readonly survive: number;
  readonly luck: readonly { readonly chance: number; readonly adds: number }[];
  readonly uses: readonly Use[];
}

/** The facts of the hand-written route that the simulated runner meets. */
export interface Route {
  readonly restart: number;
  readonly segments: readonly Segment[];
  /** Seconds from one attempt's start to the next in practice, by technique. */
  readonly cycles: ReadonlyMap<string, number>;
  /** How hard each technique is written to be, 1 to 10, in the order of the file. */
  readonly difficulties: ReadonlyMap<string, number>;
}

interface TechniqueText {
  difficulty?: number;
  saves?: number | string;
  loses?: number | string;
  practice?: { attempt?: number; reload?: number };
}

interface UseText extends TechniqueText {
  use: string;
  id?: string;
  retry?: number;
  max_tries?: number;
}

interface RouteText {
  restart: number;
  segments: {
    id: string;
    time: number | string;
    spread: number;
    survive?: number;
    luck?: { chance: number; adds: number }[];
    techniques?: (string | UseText)[];
  }[];
  techniques: Record<string, TechniqueText>;
}

/** Reads the sample's own route, so that the logs always agree with it. It is valid: the checks see to that. */
export function readRoute(text: string): Route {
  const route = parse(text) as RouteText;
  const cycles = new Map<string, number>();
  const difficulties = new Map<string, number>();
  for (const [id, technique] of Object.entries(route.techniques)) {
    cycles.set(id, (technique.practice?.attempt ?? 5) + (technique.practice?.reload ?? 3));
    difficulties.set(id, technique.difficulty ?? 5);
  }
  const segments = route.segments.map((segment) => ({
    id: segment.id,
    time: seconds(segment.time),
    spread: segment.spread,
    survive: segment.survive ?? 1,
    luck: segment.luck ?? [],
    uses: (segment.techniques ?? []).map((entry) => readUse(entry, route.techniques)),
  }));
  return { restart: route.restart, segments, cycles, difficulties };
}

/** The same route for somebody whose usual times are another share of the written ones. */
export function withTimes(route: Route, share: number): Route {
  const segments = route.segments.map((segment) => ({ ...segment, time: segment.time * share }));
  return { ...route, segments };
}

function readUse(entry: string | UseText, techniques: Record<string, TechniqueText>): Use {
  const use: UseText = typeof entry === 'string' ? { use: entry } : entry;
  const technique = techniques[use.use] ?? {};
  return {
    name: use.id === undefined ? use.use : `${use.use}@${use.id}`,
    technique: use.use,
    saves: middle(use.saves ?? technique.saves ?? 0),
    loses: middle(use.loses ?? technique.loses ?? 0),
    retry: use.retry ?? 0,
    maxTries: use.retry === undefined ? 1 : (use.max_tries ?? 3),
  };
}

/** Seconds from `92.4`, `1:32.4` or `1:02:03.4`. */
export function seconds(time: number | string): number {
  if (typeof time === 'number') return time;
  return time.split(':').reduce((sum, part) => sum * 60 + Number(part), 0);
}

/** The middle of a range `9..16`, or the number itself. */
function middle(value: number | string): number {
  if (typeof value === 'number') return value;
  const [low = '0', high = low] = value.split('..');
  return (Number(low) + Number(high)) / 2;
}
