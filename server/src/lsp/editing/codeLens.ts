import type { CodeLens, CodeLensParams, Command } from 'vscode-languageserver';
import { formatTime } from '../../text/time.ts';
import { locate } from '../../files/yaml/tree.ts';
import { standingSentence, standingTitle } from '../../queries/standingText.ts';
import {
  formatRange,
  formatPercent,
  formatPercentRange,
  formatList,
  formatTwoFigures,
  rangeDecimals,
} from '../../text/format.ts';
import { showInPanelCommand, type ShowInPanel } from '../../protocol/panel/showInPanel.ts';
import { editorText } from '../../safeText/editor.ts';
import type { Project } from '../../workspace/project.ts';
import { identifiers, type Identifier } from './identifiers.ts';
import type { RouteEstimates } from '../estimates/inlineEstimates.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import type { RouteHints } from './routeHints.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

export interface CodeLensNeeds extends Pick<FileServices, 'workspace' | 'positions'> {
  readonly client: Pick<ClientFeatures, 'showsInPanel'>;
  readonly inlineEstimatesOf: (project: Project) => RouteEstimates | undefined;
  readonly routeHints: Pick<RouteHints, 'shown'>;
}

/**
 * A line above each technique of a route with where it stands and its place in the ranking, and above each segment with
 * its expected time. The numbers are the last ones computed; where there are none, there are no lines. `server.ts` makes the first request
 * wait until there are numbers.
 */
export function codeLensProvider(needs: CodeLensNeeds): (params: CodeLensParams) => CodeLens[] {
  return ({ textDocument }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (file?.kind !== 'route') return [];
    const project = needs.workspace.projectOf(file.uri);
    const numbers = project && needs.inlineEstimatesOf(project);
    if (!numbers) return [];
    return [...identifiers(file)].flatMap((identifier) => {
      const title = identifier.defines ? lensTitle(needs, project, numbers, identifier) : undefined;
      if (title === undefined) return [];
      const { tree } = file.reading;
      const [section, step] = identifier.path;
      const whole = locate(tree, [section!, step!]);
      // Above the line on which the entry begins, also where its id is not the first key.
      const start = identifier.entityKind === 'segment' ? whole.value.start : identifier.span.start;
      return [
        {
          range: needs.positions.range(file.uri, { start, end: Math.max(start, identifier.span.end) }),
          command: lensCommand(needs, textDocument.uri, identifier, editorText(title)),
        },
      ];
    });
  };
}

/**
 * A click on a technique opens its curve, a click on a segment opens the run. In an editor without the panel the line
 * is text only.
 */
function lensCommand(
  { client }: CodeLensNeeds,
  uri: string,
  { entityKind, id }: Identifier,
  title: string,
): Command {
  if (!client.showsInPanel) return { title, command: '' };
  const showInPanel: ShowInPanel =
    entityKind === 'technique'
      ? { uri, view: 'curve', technique: id }
      : { uri, view: 'odds', technique: null };
  return { title, command: showInPanelCommand, arguments: [showInPanel] };
}

function lensTitle(
  { routeHints }: CodeLensNeeds,
  project: Project,
  numbers: RouteEstimates,
  { entityKind, id }: Identifier,
): string | undefined {
  if (entityKind === 'technique') return techniqueTitle(numbers, id, routeHints.shown);
  return entityKind === 'segment' ? segmentTitle(project, numbers, id) : undefined;
}

/**
 * Where a technique stands, then what helps there: why it is to be worked on again, how often it lands in runs, or its
 * place in the ranking. A technique that is not begun and has a place shows only that. Where hints show the landing rate
 * and the break-even, the line has the reason without them.
 */
function techniqueTitle(
  { ranked, assessed, names }: RouteEstimates,
  id: string,
  ratesInHints: boolean,
): string | undefined {
  const assessment = assessed.get(id);
  if (!assessment) return undefined;
  const { standing, runNow } = assessment;
  const { kind } = standing;
  const title = standingTitle(kind);
  const sentence = standingSentence(standing, (other) => names.get(other) ?? other, !ratesInHints);
  if (kind === 'again') return `${title} · ${sentence}`;
  const found = ranked.get(id);
  if (!found || kind === 'in-run')
    return ratesInHints
      ? `${title} · ${sentence}`
      : `${title} · lands ${formatPercent(runNow.mean)} (${formatPercentRange(runNow)}) in a run`;
  const { row } = found;
  // Each line of a route has the digits of the others.
  const decimals = rangeDecimals([...ranked.values()].map((one) => one.row));
  const gain = `${formatTwoFigures(row.gainPerHour)} s per hour of practice (${formatRange(row, 's', decimals)})`;
  return kind === 'not-begun'
    ? `No. ${found.place} to learn next · ${gain}`
    : `${title} · no. ${found.place} in the ranking · ${gain}`;
}

function segmentTitle(project: Project, numbers: RouteEstimates, id: string): string | undefined {
  const { segments, assessed, uses, names } = numbers;
  const seconds = segments.get(id);
  if (seconds === undefined) return undefined;
  const tried = (uses.get(id) ?? []).filter((technique) => assessed.get(technique)?.standing.tried);
  const called = tried.map(
    (technique) => project.techniques.get(technique)?.name ?? names.get(technique) ?? technique,
  );
  const what = called.length > 0 ? `with ${formatList(called)}` : 'nothing tried here yet';
  return `Expected ${formatTime(seconds)} · ${what}`;
}
