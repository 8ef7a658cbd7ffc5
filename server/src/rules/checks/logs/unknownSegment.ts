import type { Path, Tree } from '../../../files/yaml/tree.ts';
import type { Project } from '../../../workspace/project.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { replacementFix, NameSuggester } from '../../lookup/nameSuggester.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** Segments that a log or week names and the route does not have. */
export const unknownSegment: Rule = {
  code: 'unknown-segment',
  severity: 'error',
  title: 'An id that no segment of the route has.',
  page: {
    why: 'A time or an ending of a segment that the route does not have says nothing about the run.',
    way: 'Correct the id, or add the segment to the route.',
    failing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, ended: { at: harbour, why: reset } }
`,
    },
    passing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, ended: { at: harbor, why: reset } }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { segments, allRoutesFound, isComplete } = declaredNames(context);
    if (!allRoutesFound) return [];
    const suggester = new NameSuggester(segments);
    const found = new Map<string, RuleReport>();
    for (const [id, place, tree] of mentions(project)) {
      if (segments.has(id)) continue;
      const meant = suggester.suggest(id);
      // It may be defined in text that could not be read. An id that looks like a misspelled one is reported all the
      // same.
      if (!isComplete && meant === undefined) continue;
      const message =
        meant === undefined
          ? `No segment of the route has the id \`${id}\`. Add it under \`segments\`, or correct the id.`
          : `No segment of the route has the id \`${id}\`. Did you mean \`${meant}\`?`;
      // An evening's endings in one segment share their place.
      found.set(JSON.stringify([place.uri, place.path]), {
        ...place,
        message,
        ...(meant !== undefined && replacementFix(place, meant, tree)),
      });
    }
    return [...found.values()];
  },
};

function* mentions(project: Project): Generator<[string, SourceRef, Tree]> {
  for (const { uri, document, reading } of ownPractice(project)) {
    for (const { segment, path } of document.sessions.flatMap(({ blocks }) => blocks))
      if (segment !== undefined) yield [segment, valueAt(uri, [...path, 'segment']), reading.tree];
  }
  for (const { uri, document, reading } of project.runs) {
    for (const { kind, times, endings } of document.runs) {
      for (const { id, path } of times) yield [id, keyAt(uri, path), reading.tree];
      for (const { segment, path } of endings)
        yield [segment, kind === 'run' ? valueAt(uri, [...path, 'at']) : keyAt(uri, path), reading.tree];
    }
  }
  for (const { uri, document, reading } of project.weeks) {
    for (const { id, path } of document.times) yield [id, keyAt(uri, path), reading.tree];
  }
}

function valueAt(uri: string, path: Path): SourceRef {
  return { uri, path, part: 'value' };
}

function keyAt(uri: string, path: Path): SourceRef {
  return { uri, path, part: 'key' };
}
