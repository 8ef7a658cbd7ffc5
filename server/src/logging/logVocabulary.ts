import { useName } from '../files/schema/ids.ts';
import { closestWord } from '../text/closestWord.ts';
import { closestId, idCalled, idsByName, type IdsByName, severalCalled } from '../text/namedIds.ts';
import type { Project } from '../workspace/project.ts';

/** What entries of a log may name: the words of one route. */
export interface LogVocabulary {
  /** Id as a person may write it, also a former one → the technique's id today. */
  readonly techniques: Readonly<Record<string, string>>;
  /** Ids of the segments, in the order of the route. */
  readonly segments: readonly string[];
  readonly techniquesByName: IdsByName;
  readonly segmentsByName: IdsByName;
  /** What the techniques and segments are called, by id; without those that have no name. */
  readonly names: Readonly<Record<'technique' | 'segment', Readonly<Record<string, string>>>>;
  /** `technique@use` of every use with an id of its own. */
  readonly uses: readonly string[];
}

/** The words of a project's route. */
export function logVocabularyOf({ techniques, renamed, segments }: Project): LogVocabulary {
  const current = [...techniques.keys()].map((id) => [id, id] as const);
  return {
    techniques: Object.fromEntries([...renamed, ...current]),
    segments: segments.map(({ id }) => id),
    techniquesByName: idsByName([...techniques.values()]),
    segmentsByName: idsByName(segments),
    names: { technique: namesById([...techniques.values()]), segment: namesById(segments) },
    uses: segments.flatMap(({ uses }) =>
      uses.flatMap(({ technique, id }) => (id === undefined ? [] : [useName(technique, id)])),
    ),
  };
}

function namesById(
  named: readonly { readonly id: string; readonly name?: string | undefined }[],
): Record<string, string> {
  return Object.fromEntries(named.flatMap(({ id, name }) => (name === undefined ? [] : [[id, name]])));
}

/** What a technique or a segment is called in these words; its id where they have no name of it. */
export function nameAmong({ names }: Pick<LogVocabulary, 'names'>): NameOf {
  return (id, what) => (Object.hasOwn(names[what], id) ? names[what][id]! : id);
}

/** What a technique is called in these words, as {@link nameAmong} says; undefined where an entry names none. */
export function techniqueName(
  words: Pick<LogVocabulary, 'names'>,
  id: string | undefined,
): string | undefined {
  return id === undefined ? undefined : nameAmong(words)(id, 'technique');
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
  /** What was written wrongly, where it is one thing of several. */
  readonly part?: WrittenPart | undefined;
  /** Its place among several of its kind: of the times, or of what was tried. */
  readonly index?: number | undefined;
}

/** A thing that a person writes of a block, a run or an evening. */
export type WrittenPart =
  | 'start'
  | 'technique'
  | 'segment'
  | 'minutes'
  | 'landed'
  | 'tries'
  | 'attempts'
  | 'tape'
  | 'total'
  | 'times'
  | 'tried'
  | 'first'
  | 'ended'
  | 'runs'
  | 'finished';

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
  return idCalled(written, techniquesByName);
}

/**
 * The name of a use as logs write it, for `crate-vault`, or `crate-vault@second` for one of several uses; a problem where
 * the route does not have it.
 */
export function knownUse(written: string, words: LogVocabulary): string | WritingProblem {
  const [technique = '', use] = written.split('@');
  const id = knownTechnique(technique, words);
  if (typeof id !== 'string') return id;
  const name = useName(id, use);
  if (use === undefined || words.uses.includes(name)) return name;
  const meant = closestWord(
    name,
    words.uses.filter((other) => other.startsWith(`${id}@`)),
  );
  const way = meant
    ? `Did you mean ${meant}?`
    : `Write ${id} alone, or give the use the id ${use} in its segment.`;
  return { problem: `The route has no use ${name}. ${way}` };
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
  return segments.includes(written) ? written : idCalled(written, segmentsByName);
}

function unknownWord(
  what: 'segment' | 'technique',
  written: string,
  known: readonly string[],
  byName: IdsByName,
): WritingProblem {
  const several = severalCalled(what, written, byName);
  if (several !== undefined) return { problem: several };
  const meant = closestWord(written, known) ?? closestId(written, byName);
  return { problem: `The route has no ${what} ${written}.${meant ? ` Did you mean ${meant}?` : ''}` };
}
