import { closestWord } from '../text/closestWord.ts';
import { nameKey } from '../text/nameKey.ts';
import type { Project } from '../workspace/project.ts';

/** What entries of a log may name: the words of one route. */
export interface LogVocabulary {
  /** Id as a person may write it, also a former one → the technique's id today. */
  readonly techniques: Readonly<Record<string, string>>;
  /** Ids of the segments, in the order of the route. */
  readonly segments: readonly string[];
  /** Name, as `nameKey` spells it → id of the technique with this name. A name that two have is left out. */
  readonly techniqueNames: Readonly<Record<string, string>>;
  /** The same for segments. */
  readonly segmentNames: Readonly<Record<string, string>>;
}

/** The words of a project's route. */
export function logVocabularyOf({ techniques, renamed, segments }: Project): LogVocabulary {
  const current = [...techniques.keys()].map((id) => [id, id] as const);
  return {
    techniques: Object.fromEntries([...renamed, ...current]),
    segments: segments.map(({ id }) => id),
    techniqueNames: idsByName([...techniques].map(([id, { name }]) => ({ id, name }))),
    segmentNames: idsByName(segments),
  };
}

function idsByName(
  named: readonly { readonly id: string; readonly name?: string | undefined }[],
): Record<string, string> {
  const ids = new Map<string, Set<string>>();
  for (const { id, name } of named)
    for (const key of new Set([nameKey(id), nameKey(name ?? id)]))
      ids.set(key, (ids.get(key) ?? new Set()).add(id));
  return Object.fromEntries([...ids].flatMap(([key, of]) => (of.size === 1 ? [[key, [...of][0]!]] : [])));
}

/** What a technique or a segment of a project is called; its id where the route does not have it. */
export function nameIn(project: Project | undefined): NameOf {
  return (id, what) =>
    (what === 'technique'
      ? project?.techniques.get(id)?.name
      : project?.segments.find((segment) => segment.id === id)?.name) ?? id;
}

/** The name of a technique or a segment, by its id. */
export type NameOf = (id: string, what: 'technique' | 'segment') => string;

/** What is wrong with how an entry was written, in a sentence. */
export interface WritingProblem {
  readonly problem: string;
}

/**
 * The id that a technique has today, for its id, a former id or its name; a problem where the route has none of them, or
 * two techniques of that name.
 */
export function knownTechnique(written: string, words: LogVocabulary): string | WritingProblem {
  return techniqueCalled(written, words) ?? unknownWord('technique', written, Object.keys(words.techniques));
}

/** The same without a problem: undefined where no technique is called so. */
export function techniqueCalled(
  written: string,
  { techniques, techniqueNames }: LogVocabulary,
): string | undefined {
  if (Object.hasOwn(techniques, written)) return techniques[written]!;
  const key = nameKey(written);
  return Object.hasOwn(techniqueNames, key) ? techniqueNames[key] : undefined;
}

/** The name of a use as logs write it, for `crate-vault`, or `crate-vault@second` for one of several uses. */
export function knownUse(written: string, words: LogVocabulary): string | WritingProblem {
  const [technique = '', use] = written.split('@');
  const id = knownTechnique(technique, words);
  return typeof id !== 'string' || use === undefined ? id : `${id}@${use}`;
}

/** A segment's id, for its id or its name; a problem where the route does not have it, or has two of that name. */
export function knownSegment(written: string, words: LogVocabulary): string | WritingProblem {
  return segmentCalled(written, words) ?? unknownWord('segment', written, words.segments);
}

/** The same without a problem: undefined where no segment is called so. */
export function segmentCalled(
  written: string,
  { segments, segmentNames }: LogVocabulary,
): string | undefined {
  if (segments.includes(written)) return written;
  const key = nameKey(written);
  return Object.hasOwn(segmentNames, key) ? segmentNames[key] : undefined;
}

function unknownWord(what: string, written: string, known: readonly string[]): WritingProblem {
  const meant = closestWord(written, known);
  return { problem: `The route has no ${what} ${written}.${meant ? ` Did you mean ${meant}?` : ''}` };
}
