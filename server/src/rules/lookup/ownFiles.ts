import { weekDefaults } from '../../files/documents/weekDocument.ts';
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

/** Minutes after midnight at which the runner's day begins. */
export function dayStartsOf({ own }: LookupContext): number {
  return own.week?.document.dayStarts ?? weekDefaults.dayStarts;
}

/** Whose entries a file holds; empty where nobody is named. */
export function runnerOf(
  { own }: LookupContext,
  file: { readonly document: { readonly runner: string | undefined } },
): string {
  return file.document.runner ?? own.runner ?? '';
}
