import type { CodeLens, CodeLensParams, Command } from 'vscode-languageserver';
import { formatTime } from '../../text/time.ts';
import { locate } from '../../files/yaml/tree.ts';
import { formatRange, formatPercent, formatPercentRange, formatList } from '../../text/format.ts';
import { showInPanelCommand, type ShowInPanel } from '../../protocol/panel/showInPanel.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import type { Project } from '../../workspace/project.ts';
import { identifiers, type Identifier } from './identifiers.ts';
import type { RouteEstimates } from '../estimates/inlineEstimates.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

export interface CodeLensNeeds extends Pick<FileServices, 'workspace' | 'positions'> {
  readonly client: Pick<ClientFeatures, 'showsInPanel'>;
  readonly inlineEstimatesOf: (project: Project) => RouteEstimates | undefined;
}

/**
 * A line above each technique of a route with its place in the ranking, and above each segment with its expected time.
 * The numbers are the last ones computed; where there are none, there are no lines. `server.ts` makes the first request
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
      const title = identifier.defines ? lensTitle(project, numbers, identifier) : undefined;
      if (title === undefined) return [];
      const { tree } = file.reading;
      const [section, step] = identifier.path;
      const whole = locate(tree, [section!, step!]);
      // Above the line on which the entry begins, also where its id is not the first key.
      const start = identifier.entityKind === 'segment' ? whole.value.start : identifier.span.start;
      return [
        {
          range: needs.positions.range(file.uri, { start, end: Math.max(start, identifier.span.end) }),
          command: lensCommand(needs, textDocument.uri, identifier, title),
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
      : { uri, view: 'run', technique: null };
  return { title, command: showInPanelCommand, arguments: [showInPanel] };
}

function lensTitle(
  project: Project,
  numbers: RouteEstimates,
  { entityKind, id }: Identifier,
): string | undefined {
  if (entityKind === 'technique') return techniqueTitle(numbers, id);
  return entityKind === 'segment' ? segmentTitle(project, numbers, id) : undefined;
}

function techniqueTitle({ ranked, assessed, states }: RouteEstimates, id: string): string | undefined {
  const found = ranked.get(id);
  if (found) {
    const { row, place } = found;
    return `No. ${place} to learn next · ${formatRange(row, 's per hour of practice')}`;
  }
  const now = assessed.get(id)?.runNow;
  if (!now) return undefined;
  const lands = `lands ${formatPercent(now.mean)} (${formatPercentRange(now)}) in a run`;
  return states.get(id) === 'in-run' ? `In the run · ${lands}` : `Not ranked · ${lands}`;
}

function segmentTitle(project: Project, numbers: RouteEstimates, id: string): string | undefined {
  const { segments, states, uses, names } = numbers;
  const seconds = segments.get(id);
  if (seconds === undefined) return undefined;
  const tried = (uses.get(id) ?? []).filter((technique) => states.get(technique) === 'in-run');
  const called = tried.map((technique) =>
    sanitizeForTerminal(project.techniques.get(technique)?.name ?? names.get(technique) ?? technique),
  );
  const what = called.length > 0 ? `with ${formatList(called)}` : 'nothing tried here yet';
  return `Expected ${formatTime(seconds)} · ${what}`;
}
