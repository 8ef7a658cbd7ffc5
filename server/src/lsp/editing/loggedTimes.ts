import { runToCompletion } from '../../incremental/steps.ts';
import { CompletionItemKind, MarkupKind, type CompletionItem } from 'vscode-languageserver';
import { readSource } from '../../files/reading/reading.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { buildRouteDocument } from '../../files/documents/routeDocument.ts';
import { runnerDayOf } from '../../text/calendar.ts';
import { formatTime } from '../../text/time.ts';
import { entryOf, locate } from '../../files/yaml/tree.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import type { SegmentTime } from '../../model/run/segmentTimes.ts';
import { formatCount } from '../../text/format.ts';
import { withLogsOf } from '../../queries/projectAtRevision.ts';
import { groupFiles } from '../../workspace/groupFiles.ts';
import { runnerSegmentTimesInSteps } from '../../queries/runnerSegmentTimes.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import { buildRouteModel } from '../../queries/routeModel.ts';
import { techniqueStatesOf } from '../../queries/techniqueStates.ts';
import { modelFilesOf } from '../../queries/modelLimits.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { CursorContext, InsertionPoint } from './cursorContext.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { Workspace } from '../../workspace/workspace.ts';

export interface LoggedTimesNeeds {
  readonly workspace: Workspace;
  readonly estimates: Estimates;
}

type CompletionCandidate = CompletionItem & { readonly newText?: string };

/**
 * Completions at a segment's time or spread, from the runner's own logs: the time without techniques, as the model
 * estimates it from the runs, or, where there are too few runs, the median of the logged times.
 */
export function loggedTimes(
  needs: LoggedTimesNeeds,
  file: ProjectFile,
  insertionPoint: InsertionPoint,
  word: CursorContext['word'],
): CompletionCandidate[] {
  const what = insertionPoint.path.at(-1);
  const id = insertionPoint.part === 'value' ? segmentAt(file, insertionPoint) : undefined;
  const today = needs.workspace.projectOf(file.uri);
  const own = today && modelFilesOf(today);
  if (id === undefined || !today || !own) return [];
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const day = needs.estimates.day(own);
  const logged = own.runs
    .flatMap(({ document }) => document.runs)
    .filter(({ start }) => runnerDayOf(start, dayStarts) <= day)
    .flatMap(({ times }) => times.filter((time) => time.id === id).map(({ seconds }) => seconds))
    .sort((a, b) => a - b);
  if (logged.length === 0) return [];
  const median = logged[logged.length >> 1]!;
  const project = file.kind === 'route' ? projectWithTime(file, word, median, today) : today;
  const fit = project && fittedTime(project, own, { dayStarts, day }, id);
  if (what === 'spread') return fit?.spreadFrom === 'runs' ? [spreadOffer(fit)] : [];
  const plain: CompletionCandidate = {
    label: formatTime(median, 1),
    detail: `median of ${formatCount(logged.length, 'logged time')}`,
    documentation: text(
      `The middle one of the times of \`${id}\` in your runs, from ${formatTime(logged[0]!, 1)} to ${formatTime(logged.at(-1)!, 1)}. What you tried there then is still in it: a segment's own time is without techniques.`,
    ),
  };
  return [fit?.timeFrom === 'runs' ? timeOffer(fit) : plain].map((offer) => ({
    ...offer,
    kind: CompletionItemKind.Value,
    newText: file.kind === 'route' ? offer.label : `"${offer.label}"`,
  }));
}

/** The segment whose time or spread is written at an insertion point. */
function segmentAt({ kind }: ProjectFile, { path, tree }: InsertionPoint): string | undefined {
  const [section, step, key] = path;
  if (path.length !== 3 || (key !== 'time' && key !== 'spread')) return undefined;
  if (kind === 'week' && section === 'times') return String(step);
  if (kind !== 'route' || section !== 'segments') return undefined;
  const id = entryOf(locate(tree, path.slice(0, 2)).tree, 'id')?.value;
  return id?.type === 'scalar' ? String(id.value) : undefined;
}

/**
 * The project with a time in place of the word, because a segment without a time is not read. Only the part of the text
 * around the word is read again.
 */
function projectWithTime(
  { uri, reading }: ProjectFile,
  { start, end }: CursorContext['word'],
  seconds: number,
  today: Project,
): Project | undefined {
  const space = reading.text[start - 1] === ':' ? ' ' : '';
  const text = `${reading.text.slice(0, start)}${space}${seconds}${reading.text.slice(end)}`;
  const filledIn = readSource('route', text, reading);
  const files = new Map<string, ProjectFile>(
    today.bases.map((base) => [base.uri, { ...base, kind: 'route' }]),
  );
  files.set(uri, {
    kind: 'route',
    uri,
    reading: filledIn,
    document: buildRouteDocument(filledIn),
  });
  const { projects } = groupFiles(files, () => true);
  const project = projects.find(({ route }) => route.uri === uri);
  return project && withLogsOf(project, today);
}

/** The segment's time as the runs show it; a time for the segment in the week file is ignored. */
function fittedTime(
  project: Project,
  own: RunnerFiles,
  { dayStarts, day }: { readonly dayStarts: number; readonly day: number },
  id: string,
): SegmentTime | undefined {
  const week = own.week && { ...own.week, document: { ...own.week.document, times: [] } };
  const states = techniqueStatesOf(project, own, dayStarts, day);
  const route = buildRouteModel(project, week, states);
  const files = { ...own, week };
  const { fits } = runToCompletion(runnerSegmentTimesInSteps(project, files, route, day, new MemoCache()));
  return fits.find(({ segment }) => segment === id);
}

function timeOffer({ segment, time, spread, runs }: SegmentTime): CompletionCandidate {
  return {
    label: formatTime(time, 1),
    detail: `from ${formatCount(runs, 'run')} of yours`,
    documentation: text(
      `Your usual time of \`${segment}\` with no technique tried, from ${formatCount(runs, 'logged run')}: what landed or missed there is taken out. Spread ${spread.toFixed(1)} s.`,
    ),
  };
}

function spreadOffer({ segment, spread, runs }: SegmentTime): CompletionCandidate {
  return {
    label: spread.toFixed(1),
    kind: CompletionItemKind.Value,
    detail: `from ${formatCount(runs, 'run')} of yours`,
    documentation: text(
      `Standard deviation of your times of \`${segment}\`, seconds, from ${formatCount(runs, 'logged run')}: what techniques did is taken out.`,
    ),
  };
}

function text(value: string): { kind: typeof MarkupKind.Markdown; value: string } {
  return { kind: MarkupKind.Markdown, value };
}
