import type { CodeLens, CodeLensParams, Command } from 'vscode-languageserver';
import { formatTime } from '../../text/time.ts';
import { locate } from '../../files/yaml/tree.ts';
import { formatRange, formatShare, formatShares, listed } from '../../text/format.ts';
import { showInPanelCommand, type ShowInPanel } from '../../protocol/messages.ts';
import { plainText } from '../../text/terminalText.ts';
import type { Project } from '../../workspace/project.ts';
import { meanings, type Meaning } from './identifiers.ts';
import type { Session } from '../server/session.ts';
import type { Numbers } from '../estimates/inlineEstimates.ts';

/**
 * A line over each technique of a route with its place in the ranking, and over each segment with its expected time.
 * The numbers are those worked out last; where there are none yet, there are no lines.
 */
export function codeLenses(session: Session, { textDocument }: CodeLensParams): CodeLens[] {
  const file = session.file(textDocument.uri);
  if (file?.kind !== 'route') return [];
  const project = session.workspace.projectOf(file.uri);
  const numbers = project && session.numbersOf(project);
  if (!numbers) return [];
  return [...meanings(file)].flatMap((meaning) => {
    const title = meaning.defines ? titleOf(project, numbers, meaning) : undefined;
    if (title === undefined) return [];
    const { tree } = file.reading;
    const [section, step] = meaning.path;
    const whole = locate(tree, [section!, step!]);
    // Over the line on which the entry begins, also where its id is not the first key.
    const start = meaning.thing === 'segment' ? whole.value.start : meaning.span.start;
    return [
      {
        range: session.places.range(file.uri, { start, end: Math.max(start, meaning.span.end) }),
        command: commandOf(session, textDocument.uri, meaning, title),
      },
    ];
  });
}

/** A click on a technique opens its curve, on a segment the run; an editor without the panel shows words only. */
function commandOf({ client }: Session, uri: string, { thing, id }: Meaning, title: string): Command {
  if (!client.showsInPanel) return { title, command: '' };
  const asked: ShowInPanel =
    thing === 'technique' ? { uri, view: 'curve', technique: id } : { uri, view: 'run', technique: null };
  return { title, command: showInPanelCommand, arguments: [asked] };
}

function titleOf(project: Project, numbers: Numbers, { thing, id }: Meaning): string | undefined {
  if (thing === 'technique') return ofTechnique(numbers, id);
  return thing === 'segment' ? ofSegment(project, numbers, id) : undefined;
}

function ofTechnique({ ranked, assessed, states }: Numbers, id: string): string | undefined {
  const found = ranked.get(id);
  if (found) {
    const { row, place } = found;
    return `No. ${place} to learn next · ${formatRange(row, 's per hour of practice')}`;
  }
  const now = assessed.get(id)?.runNow;
  if (!now) return undefined;
  const lands = `lands ${formatShare(now.mean)} (${formatShares(now)}) in a run`;
  return states.get(id) === 'in-run' ? `In the run · ${lands}` : `Not ranked · ${lands}`;
}

function ofSegment(project: Project, numbers: Numbers, id: string): string | undefined {
  const { segments, states, uses, names } = numbers;
  const seconds = segments.get(id);
  if (seconds === undefined) return undefined;
  const tried = (uses.get(id) ?? []).filter((technique) => states.get(technique) === 'in-run');
  const called = tried.map((technique) =>
    plainText(project.techniques.get(technique)?.name ?? names.get(technique) ?? technique),
  );
  const what = called.length > 0 ? `with ${listed(called)}` : 'nothing tried here yet';
  return `Expected ${formatTime(seconds)} · ${what}`;
}
