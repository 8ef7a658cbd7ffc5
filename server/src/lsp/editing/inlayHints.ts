import { InlayHintKind, type InlayHint, type InlayHintParams } from 'vscode-languageserver';
import type { FileKind } from '../../files/fileKind.ts';
import { formatDate } from '../../text/calendar.ts';
import { parseSecondsOrRange } from '../../text/time.ts';
import { locate, type Path, type Spot } from '../../files/yaml/tree.ts';
import { formatPercent, formatPercentRange } from '../../text/format.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import { keysAndValues } from './identifiers.ts';
import { logHints, type HintNote } from './logHints.ts';
import { restsOnWeight } from '../../queries/resetWeightText.ts';
import type { RouteEstimates } from '../estimates/inlineEstimates.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

export interface InlayHintNeeds extends Pick<FileServices, 'workspace' | 'positions'> {
  readonly inlineEstimatesOf: (project: Project) => RouteEstimates | undefined;
}

/**
 * Text shown between the words of a file: units of numbers without a unit and, at a technique, how often it lands and
 * how often it must land to pay.
 */
export function inlayHintProvider(needs: InlayHintNeeds): (params: InlayHintParams) => InlayHint[] {
  return ({ textDocument, range }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file) return [];
    const { positions } = needs;
    const from = positions.offset(file.uri, range.start);
    const to = positions.offset(file.uri, range.end);
    const project = needs.workspace.projectOf(file.uri);
    const numbers = project && needs.inlineEstimatesOf(project);
    const notes = [
      ...unitHints(file),
      ...logHints(file, project, { start: from, end: to }),
      ...(numbers && file.kind === 'route' ? rateHints(file, numbers) : []),
    ];
    return notes
      .filter(({ at }) => from <= at && at <= to)
      .sort((a, b) => a.at - b.at)
      .map(({ at, label, tooltip }) => ({
        position: positions.range(file.uri, { start: at, end: at }).start,
        label,
        kind: InlayHintKind.Parameter,
        paddingLeft: true,
        ...(tooltip !== undefined && { tooltip }),
      }));
  };
}

/**
 * Where numbers without a unit are written, each with the unit that it has there. `#` stands for an index in a list.
 */
const units: Readonly<Record<FileKind, readonly (readonly [RegExp, string])[]>> = {
  route: [
    [/^(target|restart)$/, 's'],
    [/^segments\/#\/(time|spread)$/, 's'],
    [/^segments\/#\/luck\/#\/adds$/, 's'],
    [/^segments\/#\/techniques\/#\/(saves|loses|retry|costs)$/, 's'],
    [/^techniques\/[^/]+\/(saves|loses|practice\/(attempt|reload))$/, 's'],
    [/\/miss\/#\/loses$/, 's'],
  ],
  practice: [[/^sessions\/#\/blocks\/#\/minutes$/, 'min']],
  runs: [
    [/^runs\/#\/minutes$/, 'min'],
    [/^runs\/#\/(total|times\/[^/]+)$/, 's'],
  ],
  week: [
    [/^target$/, 's'],
    [/^(block|days\/[^/]+|runs\/[^/]+)$/, 'min'],
    [/^times\/[^/]+\/(time|spread)$/, 's'],
  ],
  pool: [],
};

function* unitHints({ kind, reading }: ProjectFile): Generator<HintNote> {
  if (units[kind].length === 0) return;
  for (const { path, part, tree, span } of keysAndValues(reading.tree, [], 0)) {
    if (part !== 'value' || tree?.type !== 'scalar' || !isBare(tree.value)) continue;
    const shape = pathPattern(path);
    const unit = units[kind].find(([pattern]) => pattern.test(shape))?.[1];
    if (unit !== undefined) yield { at: span.end, label: unit };
  }
}

/** A number, or a range of two numbers. A time with a colon needs no unit. */
function isBare(value: string | number | boolean | null): boolean {
  return typeof value === 'number' || (typeof value === 'string' && parseSecondsOrRange(value) !== undefined);
}

function pathPattern(path: Path): string {
  return path.map((step) => (typeof step === 'number' ? '#' : step)).join('/');
}

function* rateHints({ reading }: ProjectFile, { assessed, day }: RouteEstimates): Generator<HintNote> {
  for (const spot of keysAndValues(reading.tree, [], 0)) {
    if (spot.part !== 'key' || spot.path.length !== 2 || spot.path[0] !== 'techniques') continue;
    const id = String(spot.path[1]);
    const found = assessed.get(id);
    if (!found) continue;
    const colon = colonAfter(reading.text, spot);
    if (colon !== undefined) {
      const tooltip = `Landing rate in a run on ${formatDate(day)}, with the range that holds 80 % of what is likely. In practice: ${formatPercentRange(found.practiceNow)}.`;
      const label = `lands ${formatPercent(found.runNow.mean)} (${formatPercentRange(found.runNow)})`;
      yield { at: colon, label, tooltip };
    }
    const { breakEven } = found;
    const end = lossEnd(reading.tree, spot.path);
    if (breakEven !== null && end !== undefined) {
      const tooltip = `Landing rate in a run above which trying beats the next best choice.${restsOnWeight(found.resetWeight)}`;
      yield { at: end, label: `break-even ${formatPercent(breakEven)}`, tooltip };
    }
  }
}

/** The offset after the colon of a key. */
function colonAfter(text: string, { span }: Spot): number | undefined {
  const colon = /^\s*:/.exec(text.slice(span.end, span.end + 40));
  return colon ? span.end + colon[0].length : undefined;
}

/** The offset after the value of `loses` or, where that is no single value, after the value of `saves`. */
function lossEnd(tree: ProjectFile['reading']['tree'], path: Path): number | undefined {
  for (const key of ['loses', 'ends_run', 'saves']) {
    const place = locate(tree, [...path, key]);
    if (place.exact && place.tree?.type === 'scalar') return place.value.end;
  }
  return undefined;
}
