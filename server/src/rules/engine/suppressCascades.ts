import type { Span } from '../../files/yaml/problem.ts';
import type { Reading } from '../../files/reading/reading.ts';
import { entryAround } from '../../files/yaml/tree.ts';
import type { Project } from '../../workspace/project.ts';
import { filesOf, type Workspace } from '../../workspace/workspace.ts';
import type { Finding } from './findings.ts';

/** Codes of findings that rest on all that the routes say, numbers too: an entry with an error is left out of that. */
const codesThatNeedWholeRoute: ReadonlySet<string> = new Set([
  'attempts-exceed-minutes',
  'cycle-slower-than-written',
  'duplicate-use',
  'ended-by-another',
  'impossible-total',
  'item-never-used',
  'needs-cycle',
  'restart-unwritten',
  'saves-nothing',
  'tried-too-often',
  'unlikely-segment-time',
]);

/**
 * Findings of a project without those that may only seem so: one mistake is told once. Where some of a route could not
 * be read, what rests on all of it is not told. Where some of an entry could not be read, warnings and hints about it
 * are not told.
 */
export function suppressCascades(findings: readonly Finding[], project: Project): readonly Finding[] {
  const broken = new Map(
    filesOf(project).flatMap(({ uri, reading }) =>
      reading.problems.length > 0 ? [[uri, brokenEntries(reading)] as const] : [],
    ),
  );
  if (broken.size === 0) return findings;
  const inRoutes = [project.route, ...project.bases].flatMap(({ reading }) => reading.problems);
  return findings.filter(({ uri, code, severity, start }) => {
    if (inRoutes.length > 0 && codesThatNeedWholeRoute.has(code)) return false;
    return (
      severity === 'error' || !broken.get(uri)?.some((entry) => entry.start <= start && start < entry.end)
    );
  });
}

/** Whether a file and the routes that it belongs to could be read: only then is nothing kept back about it. */
export function isFreeOfReadingProblems(workspace: Workspace, uri: string): boolean {
  const routes = workspace.projectsOf(uri).flatMap(({ route, bases }) => [route, ...bases]);
  return [workspace.file(uri), ...routes].every((file) => !file || file.reading.problems.length === 0);
}

/** Spans of the entries of a file's sections, and of its other keys, in which there is a problem. */
function brokenEntries({ tree, problems }: Reading): Span[] {
  const spans = problems.map(({ start }) => entryAround(tree, start)).filter((span) => span !== undefined);
  return spans.filter((span, at) => span.start !== spans[at - 1]?.start);
}
