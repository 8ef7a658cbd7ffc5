import type { Span } from '../../files/yaml/problem.ts';
import type { Reading } from '../../files/reading/reading.ts';
import { entryAround } from '../../files/yaml/tree.ts';
import type { Project } from '../../workspace/project.ts';
import { filesOf, type Workspace } from '../../workspace/workspace.ts';
import type { Finding } from './findings.ts';

/**
 * Leaves out the findings that may only follow from a mistake that is reported already, so that one mistake gives one
 * finding. Where part of a route could not be read, the codes in `wholeRouteCodes` are left out, in the route and in
 * its logs. Where part of an entry could not be read, warnings and hints about that entry are left out.
 *
 * @param wholeRouteCodes codes of the rules with `needsWholeRoute`
 * @returns the same list where every file of the project was read to its end
 */
export function suppressCascades(
  findings: readonly Finding[],
  project: Project,
  wholeRouteCodes: ReadonlySet<string>,
): readonly Finding[] {
  const broken = new Map(
    filesOf(project).flatMap(({ uri, reading }) =>
      reading.problems.length > 0 ? [[uri, brokenEntries(reading)] as const] : [],
    ),
  );
  if (broken.size === 0) return findings;
  const inRoutes = [project.route, ...project.bases].flatMap(({ reading }) => reading.problems);
  return findings.filter(({ uri, code, severity, start }) => {
    if (inRoutes.length > 0 && wholeRouteCodes.has(code)) return false;
    return (
      severity === 'error' || !broken.get(uri)?.some((entry) => entry.start <= start && start < entry.end)
    );
  });
}

/** Whether a file and the routes it belongs to were read without a problem: only then is no finding about it left out. */
export function isFreeOfReadingProblems(workspace: Workspace, uri: string): boolean {
  const routes = workspace.projectsOf(uri).flatMap(({ route, bases }) => [route, ...bases]);
  return [workspace.file(uri), ...routes].every((file) => !file || file.reading.problems.length === 0);
}

/** Where a file has problems: the spans of the entries, or of the keys outside all sections, that hold one. */
function brokenEntries({ tree, problems }: Reading): Span[] {
  const spans = problems.map(({ start }) => entryAround(tree, start)).filter((span) => span !== undefined);
  return spans.filter((span, at) => span.start !== spans[at - 1]?.start);
}
