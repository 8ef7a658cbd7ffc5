import { locate, type Path, type Tree } from '../../files/yaml/tree.ts';
import { formatCount, formatPercent } from '../../text/format.ts';
import { formatTime, parseTime } from '../../text/time.ts';
import type { Project, ProjectFile } from '../../workspace/project.ts';
import { keysAndValues } from './identifiers.ts';

/** A text between the words of a file. */
export interface HintNote {
  /** Offset. */
  readonly at: number;
  readonly label: string;
  readonly tooltip?: string;
}

const counts = /^sessions\/\d+\/blocks\/\d+\/(landed|seen)$/;
const times = /^runs\/\d+\/times$/;

/**
 * What a log leaves to be worked out in one's head: the landing rate of a block behind its counts, and the total time of
 * a run behind the times of its segments, where the run has all of them and no total of its own.
 *
 * @param within offsets of the part that is shown: logs may be long
 */
export function* logHints(
  { kind, reading: { tree } }: ProjectFile,
  project: Project | undefined,
  within: { readonly start: number; readonly end: number },
): Generator<HintNote> {
  if (kind !== 'practice' && kind !== 'runs') return;
  for (const { path, part, tree: value, span } of keysAndValues(tree, [], 0)) {
    if (part !== 'key' || span.end < within.start || span.start > within.end || value === undefined) continue;
    const name = path.join('/');
    const label =
      kind === 'practice'
        ? counts.test(name) && rateOf(value)
        : times.test(name) && totalOf(value, tree, path, project);
    if (label) yield { at: locate(tree, path).value.end, label };
  }
}

/** The share that landed of `[landed, tries]`; undefined where the two are no counts. */
function rateOf(value: Tree): string | undefined {
  if (value.type !== 'list' || value.items.length !== 2) return undefined;
  const [landed, tries] = value.items.map((item) =>
    item.value?.type === 'scalar' && typeof item.value.value === 'number' ? item.value.value : Number.NaN,
  );
  return landed! >= 0 && tries! >= 1 && landed! <= tries! ? formatPercent(landed! / tries!) : undefined;
}

function totalOf(value: Tree, tree: Tree, path: Path, project: Project | undefined): string | undefined {
  if (value.type !== 'map' || !project || project.segments.length === 0) return undefined;
  const run = locate(tree, path.slice(0, -1)).tree;
  if (run?.type !== 'map' || run.entries.some(({ key }) => key.value === 'total' || key.value === 'ended'))
    return undefined;
  const written = new Map(
    value.entries.map(({ key, value: time }) => [
      String(key.value),
      time?.type === 'scalar' && (typeof time.value === 'number' || typeof time.value === 'string')
        ? parseTime(time.value)
        : undefined,
    ]),
  );
  let seconds = 0;
  for (const { id } of project.segments) {
    const time = written.get(id);
    if (time === undefined) return undefined;
    seconds += time;
  }
  return `${formatTime(seconds)} for ${formatCount(project.segments.length, 'segment')}`;
}
