import type { Project } from '../../workspace/project.ts';
import type { Io } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';

/** A title for an answer: game, category and file. */
export function titleOf({ route }: Project, io: Io): string {
  const { game, category } = route.document;
  const name = relativeNames(io.cwd)(route.uri);
  return `${game ?? 'No game named'}, ${category ?? 'no category named'} (${name})`;
}
