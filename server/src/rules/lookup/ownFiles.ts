import { routeUri } from '../../workspace/groupFiles.ts';
import type { PracticeFile, Project } from '../../workspace/project.ts';
import type { LookupContext } from './lookupContext.ts';

/**
 * The practice files that name the project's own route. Practice is shared with the routes that extend each other; a
 * rule reports about a file only in the project whose route it names, so that nothing is found twice.
 */
export function ownPractice(project: Project): readonly PracticeFile[] {
  return project.practice.filter(({ uri, document }) => routeUri(uri, document.route) === project.route.uri);
}

/** Whose entries a file holds; empty where nobody is named. */
export function runnerOf(
  { own }: LookupContext,
  file: { readonly document: { readonly runner: string | undefined } },
): string {
  return file.document.runner ?? own.runner ?? '';
}
