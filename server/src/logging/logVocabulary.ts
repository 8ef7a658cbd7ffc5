import { closestWord } from '../text/closestWord.ts';
import { formatList } from '../text/format.ts';
import { nameKey } from '../text/nameKey.ts';
import type { Project } from '../workspace/project.ts';

/** What entries of a log may name: the words of one route. */
export interface LogVocabulary {
  /** Id as a person may write it, also a former one → the technique's id today. */
  readonly techniques: Readonly<Record<string, string>>;
  /** Ids of the segments, in the order of the route. */
  readonly segments: readonly string[];
  /** Name, as `nameKey` spells it → ids of the techniques with this name. */
  readonly techniquesByName: Readonly<Record<string, readonly string[]>>;
  /** The same for segments. */
  readonly segmentsByName: Readonly<Record<string, readonly string[]>>;
}

/** The words of a project's route. */
export function logVocabularyOf({ techniques, renamed, segments }: Project): LogVocabulary {
  const current = [...techniques.keys()].map((id) => [id, id] as const);
  return {
    techniques: Object.fromEntries([...renamed, ...current]),
    segments: segments.map(({ id }) => id),
    techniquesByName: idsByName([...techniques].map(([id, { name }]) => ({ id, name }))),
    segmentsByName: idsByName(segments),
  };
}

function idsByName(
  named: readonly { readonly id: string; readonly name?: string | undefined }[],
): Record<string, readonly string[]> {
  const ids = new Map<string, Set<string>>();
  for (const { id, name } of named)
    for (const key of new Set([nameKey(id), nameKey(name ?? id)]))
      ids.set(key, (ids.get(key) ?? new Set()).add(id));
  return Object.fromEntries([...ids].map(([key, of]) => [key, [...of]]));
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
 * several techniques of that name.
 */
export function knownTechnique(written: string, words: LogVocabulary): string | WritingProblem {
  const { techniques, techniquesByName } = words;
  return (
    techniqueCalled(written, words) ??
    unknownWord('technique', written, Object.keys(techniques), techniquesByName)
  );
}

/** The same without a problem: undefined where not exactly one technique is called so. */
export function techniqueCalled(
  written: string,
  { techniques, techniquesByName }: LogVocabulary,
): string | undefined {
  if (Object.hasOwn(techniques, written)) return techniques[written]!;
  return onlyOne(idsCalled(written, techniquesByName));
}

/** The name of a use as logs write it, for `crate-vault`, or `crate-vault@second` for one of several uses. */
export function knownUse(written: string, words: LogVocabulary): string | WritingProblem {
  const [technique = '', use] = written.split('@');
  const id = knownTechnique(technique, words);
  return typeof id !== 'string' || use === undefined ? id : `${id}@${use}`;
}

/** A segment's id, for its id or its name; a problem where the route does not have it, or has several of that name. */
export function knownSegment(written: string, words: LogVocabulary): string | WritingProblem {
  const { segments, segmentsByName } = words;
  return segmentCalled(written, words) ?? unknownWord('segment', written, segments, segmentsByName);
}

/** The same without a problem: undefined where not exactly one segment is called so. */
export function segmentCalled(
  written: string,
  { segments, segmentsByName }: LogVocabulary,
): string | undefined {
  return segments.includes(written) ? written : onlyOne(idsCalled(written, segmentsByName));
}

function idsCalled(written: string, byName: Readonly<Record<string, readonly string[]>>): readonly string[] {
  const key = nameKey(written);
  return Object.hasOwn(byName, key) ? byName[key]! : [];
}

function onlyOne(ids: readonly string[]): string | undefined {
  return ids.length === 1 ? ids[0] : undefined;
}

function unknownWord(
  what: string,
  written: string,
  known: readonly string[],
  byName: Readonly<Record<string, readonly string[]>>,
): WritingProblem {
  const several = idsCalled(written, byName);
  if (several.length > 1)
    return {
      problem: `Several ${what}s are called ${written}: ${formatList(several)}. Write the id of the one that is meant.`,
    };
  const name = closestWord(nameKey(written), Object.keys(byName));
  const meant = closestWord(written, known) ?? (name === undefined ? undefined : byName[name]![0]);
  return { problem: `The route has no ${what} ${written}.${meant ? ` Did you mean ${meant}?` : ''}` };
}
