import { locate, type Path } from '../files/yaml/tree.ts';
import type { Segment, Technique } from '../files/documents/documents.ts';
import type { Reading } from '../files/reading/reading.ts';
import { LineIndex } from '../text/lineIndex.ts';
import { formatCount } from '../text/format.ts';
import { fileName } from '../workspace/fileName.ts';
import type { Project, WithUri } from '../workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../workspace/runnerFiles.ts';
import { filesOf } from '../workspace/workspace.ts';

/**
 * The most of each thing that a route may have for the model to work on it. All are several times what the longest real
 * routes and logs have. Within them each step of the model's work is short and its memory is bounded.
 */
export const modelLimits = {
  segments: 1_000,
  techniques: 1_000,
  usesInSegment: 100,
  luckInSegment: 20,
  waysToMiss: 20,
  needsDepth: 50,
  blocks: 50_000,
  runs: 50_000,
} as const;

/** Where a route or its logs have more of something than the model works on. */
export interface Excess {
  readonly uri: string;
  readonly path: Path;
  readonly part: 'key' | 'value';
  /** What is too much, the limit, and what to do. */
  readonly message: string;
}

const found = new WeakMap<Project, readonly Excess[]>();

/** Everything of a project that is beyond {@link modelLimits}, in the route first; empty for every real route. */
export function excessesOf(project: Project): readonly Excess[] {
  const known = found.get(project);
  if (known !== undefined) return known;
  const excesses = [...inRoute(project), ...inLogs(project)];
  found.set(project, excesses);
  return excesses;
}

/** The files of the one runner whom the model is asked about; undefined where it cannot be asked. */
export function modelFilesOf(project: Project, chosen?: string): RunnerFiles | undefined {
  const own = runnerFilesOf(project, chosen);
  return 'runners' in own || excessesOf(project).length > 0 ? undefined : own;
}

/** Why the model does not work on a project, with the place; undefined where it does. */
export function tooLargeMessage(project: Project): string | undefined {
  const [first] = excessesOf(project);
  const file = first && filesOf(project).find(({ uri }) => uri === first.uri);
  if (!file) return undefined;
  const name = fileName(file.uri);
  return `This route is too large to work with. ${name}, line ${lineOf(file.reading, first.path)}: ${first.message}`;
}

function lineOf({ text, tree }: Reading, path: Path): number {
  const { key, value } = locate(tree, path);
  return new LineIndex(text).positionAt((key ?? value).start).line + 1;
}

function* inRoute(project: Project): Generator<Excess> {
  const { segments, techniques, route } = project;
  const section = (key: string) => ({ uri: route.uri, path: [key], part: 'key' as const });
  if (segments.length > modelLimits.segments) {
    const message = tooMany('The route has', segments.length, ['segment'], modelLimits.segments);
    yield {
      ...section('segments'),
      message: `${message} Merge segments, or keep a route for each category.`,
    };
  }
  if (techniques.size > modelLimits.techniques) {
    const message = tooMany('The route has', techniques.size, ['technique'], modelLimits.techniques);
    yield {
      ...section('techniques'),
      message: `${message} Keep those that are not for this route in another.`,
    };
  }
  for (const segment of segments) yield* inSegment(segment);
  for (const technique of techniques.values()) yield* misses(technique, technique.id, technique.uri);
  if (techniques.size <= modelLimits.techniques) yield* deepNeeds(project);
}

function* inSegment(segment: WithUri<Segment>): Generator<Excess> {
  const { id, uri, path, uses, luck } = segment;
  if (uses.length > modelLimits.usesInSegment) {
    const message = tooMany(
      `${quoted(id)} has`,
      uses.length,
      ['technique'],
      modelLimits.usesInSegment,
      ' in one segment',
    );
    yield {
      uri,
      path: [...path, 'techniques'],
      part: 'key',
      message: `${message} Divide the segment, or take out techniques that nobody tries here.`,
    };
  }
  if (luck.length > modelLimits.luckInSegment) {
    const message = tooMany(
      `${quoted(id)} has`,
      luck.length,
      ['stroke of luck', 'strokes of luck'],
      modelLimits.luckInSegment,
    );
    yield {
      uri,
      path: [...path, 'luck'],
      part: 'key',
      message: `${message} Put those that are alike together.`,
    };
  }
  for (const use of uses) yield* misses(use, use.technique, uri);
}

function* misses(
  { miss, path }: Pick<Technique, 'miss' | 'path'>,
  id: string,
  uri: string,
): Generator<Excess> {
  if (miss === undefined || miss.length <= modelLimits.waysToMiss) return;
  const message = tooMany(`${quoted(id)} has`, miss.length, ['way'], modelLimits.waysToMiss, ' to miss');
  yield {
    uri,
    path: [...path, 'miss'],
    part: 'key',
    message: `${message} Put those that cost about the same together.`,
  };
}

/** The first technique, in the order of the route, at the end of a chain of needs that is too long. */
function* deepNeeds({ techniques }: Project): Generator<Excess> {
  const depths = needDepths(techniques);
  for (const { id, uri, path } of techniques.values()) {
    if (depths.get(id) !== modelLimits.needsDepth + 1) continue;
    const message = `${quoted(id)} is at the end of a chain of more than ${modelLimits.needsDepth} needs, each for the next. The model works with ${modelLimits.needsDepth} at most. Name only what must be learned right before it.`;
    yield { uri, path: [...path, 'needs'], part: 'key', message };
    return;
  }
}

/**
 * For each technique the length of the longest chain of needs below it. A need that leads back into the chain that is
 * being followed is passed over: techniques in a circle are reported by a rule of their own.
 */
function needDepths(techniques: Project['techniques']): Map<string, number> {
  const depths = new Map<string, number>();
  for (const root of techniques.keys()) {
    const open = [{ id: root, next: 0, depth: 0 }];
    const inChain = new Set([root]);
    for (let visit = open.at(-1); visit && !depths.has(root); visit = open.at(-1)) {
      const need = techniques.get(visit.id)!.needs[visit.next++]?.id;
      if (need === undefined) {
        depths.set(visit.id, visit.depth);
        inChain.delete(visit.id);
        open.pop();
        const above = open.at(-1);
        if (above) above.depth = Math.max(above.depth, visit.depth + 1);
      } else if (depths.has(need)) visit.depth = Math.max(visit.depth, depths.get(need)! + 1);
      else if (techniques.has(need) && !inChain.has(need)) {
        inChain.add(need);
        open.push({ id: need, next: 0, depth: 0 });
      }
    }
  }
  return depths;
}

function* inLogs({ practice, runs }: Project): Generator<Excess> {
  const blocks = new Map(
    practice.map((file) => [file.uri, sum(file.document.sessions, (one) => one.blocks.length)]),
  );
  yield* inFiles(practice, blocks, ['block'], modelLimits.blocks, 'sessions');
  const entries = new Map(runs.map((file) => [file.uri, file.document.runs.length]));
  yield* inFiles(runs, entries, ['run'], modelLimits.runs, 'runs');
}

/** The file with which the logs of one kind come to more than the limit. */
function* inFiles(
  files: readonly { readonly uri: string }[],
  counts: ReadonlyMap<string, number>,
  word: readonly [one: string],
  most: number,
  key: string,
): Generator<Excess> {
  const total = sum([...counts.values()], (count) => count);
  if (total <= most) return;
  let before = 0;
  const last = files.find(({ uri }) => (before += counts.get(uri)!) > most)!;
  const message = tooMany('The logs of this route have', total, word, most);
  yield {
    uri: last.uri,
    path: [key],
    part: 'key',
    message: `${message} Move the oldest years to a file of another name.`,
  };
}

function sum<T>(list: readonly T[], count: (one: T) => number): number {
  return list.reduce((total, one) => total + count(one), 0);
}

function tooMany(
  what: string,
  count: number,
  word: readonly [one: string, many?: string],
  most: number,
  where = '',
): string {
  return `${what} ${formatCount(count, ...word)}${where}. The model works with ${most} at most.`;
}

function quoted(id: string): string {
  return `\`${id}\``;
}
