import type { AttemptCounts } from '../../files/documents/documents.ts';
import type { Project } from '../../workspace/project.ts';
import { ownPractice } from './ownFiles.ts';
import type { SourceRef } from './sourceRef.ts';

/** Every `[landed, tries]` in the project's own logs, with its place. */
export function* attemptCountsIn(project: Project): Generator<AttemptCounts & SourceRef> {
  for (const { uri, document } of ownPractice(project)) {
    for (const block of document.sessions.flatMap(({ blocks }) => blocks)) {
      const { path, landed, seen, tried } = block;
      if (landed) yield { ...landed, uri, path: [...path, 'landed'], part: 'value' };
      if (seen) yield { ...seen, uri, path: [...path, 'seen'], part: 'value' };
      for (const tally of tried) yield { ...tally, uri, part: 'value' };
    }
  }
  for (const { uri, document } of project.runs) {
    for (const { tried, first } of document.runs)
      for (const tally of [...tried, ...first]) yield { ...tally, uri, part: 'value' };
  }
}
