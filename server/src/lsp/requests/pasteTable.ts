import { useName } from '../../files/schema/ids.ts';
import type { TextEdit } from '../../files/edit/textEdit.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type {
  PasteTableParams,
  PasteTableResult,
  RouteSegmentsParams,
  RouteSegmentsResult,
} from '../../protocol/messages/pasteTable.ts';
import { isRefusal } from '../../protocol/refusal.ts';
import { tableSum, unreadNotice } from '../../reports/tables/routeTablesPage.ts';
import { columnsToLeaveOut, faultSentence, readPastedTable } from '../../routeTables/pastedTable.ts';
import { routeEdits } from '../../routeTables/routeEdits.ts';
import type { KnownRoute, RouteParts } from '../../routeTables/routeParts.ts';
import type { TableFault } from '../../routeTables/routeRows.ts';
import { formatCount, formatList } from '../../text/format.ts';
import type { Project } from '../../workspace/project.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import { fileEdit } from '../documents/workspaceEdit.ts';
import { projectAt } from './resolveProject.ts';

/** How many entries, or places that cannot be read, are shown. */
const mostShown = 8;

/** What a table from the clipboard would add to a route, and the edit that adds it. */
export function pasteTableHandler(needs: FileServices): (params: PasteTableParams) => PasteTableResult {
  return ({ uri, table: { text, ignored } }) => {
    if (uri === null) return resultOf(readPastedTable(text, ignored), 'a new route');
    const project = projectAt(needs.workspace, normalUri(uri));
    if (isRefusal(project)) return refuse(project.message);
    const { route } = project;
    const into = fileName(route.uri);
    const parts = readPastedTable(text, ignored, knownRoute(project));
    const result = resultOf(parts, into);
    if (!result.fits || 'faults' in parts) return result;
    const edits = editsOf(project, parts);
    if (!edits)
      return refuse(
        `${into} is written in a way that no safe edit fits. Mend what is underlined there, or add the entries by hand.`,
      );
    return { ...result, edit: fileEdit(needs, route.uri, edits) };
  };
}

/** The segments of a route, in their order. */
export function routeSegmentsHandler(
  needs: FileServices,
): (params: RouteSegmentsParams) => RouteSegmentsResult {
  return ({ uri }) => {
    const project = projectAt(needs.workspace, normalUri(uri));
    if (isRefusal(project)) return project;
    return { segments: project.segments.map(({ id, name }) => ({ id, name: name ?? id })) };
  };
}

function editsOf({ route, segments }: Project, parts: RouteParts): readonly TextEdit[] | undefined {
  const paths = new Map(
    segments.filter(({ uri }) => uri === route.uri).map(({ id, path }) => [id, path] as const),
  );
  return routeEdits(route.reading, parts, (segment) => paths.get(segment));
}

/** What a table may name, and what it must not write a second time. */
function knownRoute({ segments, techniques }: Project): KnownRoute {
  return {
    segments: segments.map(({ id, name, uses }) => ({
      id,
      name,
      techniques: uses.map(({ technique }) => technique),
    })),
    techniques: [...techniques.values()].map(({ id, name }) => ({ id, name })),
    uses: segments.flatMap(({ uses }) => uses.map(({ technique, id }) => useName(technique, id))),
  };
}

function resultOf(
  parts: RouteParts | { readonly faults: readonly TableFault[] },
  into: string,
): PasteTableResult {
  if ('faults' in parts) {
    const { faults } = parts;
    return {
      message: `${formatCount(faults.length, 'place')} in the table cannot be read. Nothing was written.`,
      details: firstOf(faults.map(faultSentence), 'place'),
      leaveOut: columnsToLeaveOut(faults),
      reason: shortened(faults[0]!.message),
    };
  }
  const { segments, techniques, skipped } = parts;
  const left = [skippedNotice(skipped), unreadNotice(parts)].flatMap((sentence) => sentence ?? []);
  if (segments.length + techniques.length === 0)
    return refuse(`Everything in the table is in ${into} already. Nothing was written.`);
  const entries = [
    ...segments.map(({ id, name, time }) => `${name ?? id}: ${time}`),
    ...techniques.map(({ id, name, difficulty, saves, loses }) =>
      [
        `${name ?? id}: saves ${saves} s`,
        ...(loses === undefined ? [] : [`loses ${loses} s`]),
        `difficulty ${difficulty}`,
      ].join(', '),
    ),
  ];
  return {
    message: shortened(tableSum(parts)),
    details: [...left, ...firstOf(entries, 'entry')].map(shortened),
    fits: { into },
    leaveOut: [],
  };
}

function skippedNotice(skipped: readonly string[]): string | undefined {
  if (skipped.length === 0) return undefined;
  const shown = skipped.slice(0, mostShown);
  const rest = skipped.length - shown.length;
  const names = formatList([...shown, ...(rest > 0 ? [`${rest} more`] : [])]);
  return `Skipped, because the route has them already: ${names}.`;
}

function firstOf(lines: readonly string[], what: 'place' | 'entry'): string[] {
  const more = lines.length - mostShown;
  if (more <= 0) return lines.map(shortened);
  const rest = what === 'place' ? formatCount(more, 'more place') : `${more} more`;
  return [...lines.slice(0, mostShown), `And ${rest}.`].map(shortened);
}

/** A line of a window; a cell may hold a whole page. */
function shortened(line: string): string {
  const plain = sanitizeForTerminal(line);
  return plain.length > 300 ? `${plain.slice(0, 299)}…` : plain;
}

function refuse(message: string): PasteTableResult {
  return { message, details: [], leaveOut: [] };
}
