import { closestWord } from '../text/closestWord.ts';
import type { Project } from '../workspace/project.ts';

/** What entries of a log may name: the words of one route. */
export interface LogVocabulary {
  /** Id as a person may write it, also a former one → the technique's id today. */
  readonly techniques: Readonly<Record<string, string>>;
  /** Ids of the segments, in the order of the route. */
  readonly segments: readonly string[];
}

/** The words of a project's route. */
export function logVocabularyOf({ techniques, renamed, segments }: Project): LogVocabulary {
  const current = [...techniques.keys()].map((id) => [id, id] as const);
  return {
    techniques: Object.fromEntries([...renamed, ...current]),
    segments: segments.map(({ id }) => id),
  };
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

/** The id that a technique has today, also for a former id; a problem where the route has neither. */
export function knownTechnique(written: string, { techniques }: LogVocabulary): string | WritingProblem {
  return Object.hasOwn(techniques, written)
    ? techniques[written]!
    : unknownWord('technique', written, Object.keys(techniques));
}

/** A segment's id as it was written; a problem where the route does not have it. */
export function knownSegment(written: string, { segments }: LogVocabulary): string | WritingProblem {
  return segments.includes(written) ? written : unknownWord('segment', written, segments);
}

function unknownWord(what: string, written: string, known: readonly string[]): WritingProblem {
  const meant = closestWord(written, known);
  return { problem: `The route has no ${what} ${written}.${meant ? ` Did you mean ${meant}?` : ''}` };
}
