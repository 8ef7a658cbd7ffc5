import type { Steps } from '../../incremental/steps.ts';
import { MarkupKind, type Hover, type HoverParams, type Location, type Range } from 'vscode-languageserver';
import { formatTime } from '../../text/time.ts';
import { schemaAt } from '../../files/schema/schema.ts';
import { formatList } from '../../text/format.ts';
import { spotAt } from '../../files/yaml/tree.ts';
import { toValue } from '../../files/yaml/value.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { whoseLogsText } from '../../queries/whoseLogs.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { locationOf } from './definition.ts';
import { escapeMarkdown, markdownLink } from '../../safeText/markdown.ts';
import { identifierAt, type Identifier } from './identifiers.ts';
import { schemaText } from './schemaText.ts';
import { fileName } from '../documents/uris.ts';
import { techniqueText } from '../estimates/techniqueText.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';
import type { LastMentions } from './lastMentions.ts';
import type { TechniqueEstimators } from '../estimates/techniqueEstimators.ts';

export interface HoverNeeds extends FileServices {
  readonly mentions: LastMentions;
  readonly techniqueEstimators: TechniqueEstimators;
}

/** What a hover over a word shows: a technique's numbers, a segment's time, or what a key means. */
export function hoverProvider(needs: HoverNeeds): (params: HoverParams) => Steps<Hover | null> {
  return function* ({ textDocument, position }) {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file) return null;
    const offset = needs.positions.offset(file.uri, position);
    const identifier = identifierAt(file, offset);
    const project = needs.workspace.projectOf(file.uri);
    if (identifier && project) {
      // The place as it is in the text that the request is about: an edit may come while numbers are worked out.
      const range = needs.positions.range(file.uri, identifier.span);
      const text = yield* entityText(needs, project, identifier);
      if (text) return hoverOf(text + hoverLinks(needs, project, identifier), range);
    }

    const spot = spotAt(file.reading.tree, offset);
    const key = spot?.path.at(-1);
    if (spot?.part !== 'key' || typeof key !== 'string') return null;
    const schema = schemaAt(file.kind, spot.path, toValue(file.reading.tree));
    // Where the keys of a map are ids, the schema describes the values under them.
    return schema && !identifier
      ? hoverOf(schemaText(key, schema), needs.positions.range(file.uri, spot.span))
      : null;
  };
}

function hoverOf(value: string, range: Range): Hover {
  return { contents: { kind: MarkupKind.Markdown, value }, range };
}

/** Links to the definition, except at the definition itself, and to the last log entries. */
function hoverLinks(needs: HoverNeeds, project: Project, identifier: Identifier): string {
  const links: string[] = [];
  const place = identifier.defines ? undefined : locationOf(needs, project, identifier);
  if (place) links.push(`Defined in ${link(place)}`);
  if (identifier.entityKind === 'technique') {
    const logged = lastLogged(needs, project, identifier.id);
    if (logged.length > 0) links.push(`Logged last in ${formatList(logged.map(link))}`);
  }
  // On the line directly below the text: an editor shows only a few lines without scrolling.
  return links.length > 0 ? `  \n${links.join(' · ')}` : '';
}

function link({ uri, range: { start } }: Location): string {
  return markdownLink(`${fileName(uri)}, line ${start.line + 1}`, `${uri}#L${start.line + 1}`);
}

/**
 * The last mention of a technique in the runner's practice log and in their runs log. Logs are written from old to new,
 * so it is the one furthest down.
 */
function lastLogged(needs: HoverNeeds, project: Project, technique: string): Location[] {
  const own = runnerFilesOf(project);
  const id = currentTechniqueId(project, technique);
  if ('runners' in own || id === undefined) return [];
  return [own.practice, own.runs].flatMap((files) =>
    files.slice(-1).flatMap(({ uri }) => {
      const file = needs.workspace.file(uri);
      const last = file && needs.mentions.find(file, (one) => currentTechniqueId(project, one) === id);
      return last ? [{ uri: needs.documents.spelling(uri), range: needs.positions.range(uri, last) }] : [];
    }),
  );
}

function* entityText(needs: HoverNeeds, project: Project, identifier: Identifier): Steps<string | undefined> {
  if (identifier.entityKind === 'technique') return yield* techniqueHover(needs, project, identifier.id);
  if (identifier.entityKind !== 'segment') return undefined;
  const segment = project.segments.find(({ id }) => id === identifier.id);
  if (!segment) return undefined;
  const uses = segment.uses.map(({ technique }) =>
    escapeMarkdown(project.techniques.get(technique)?.name ?? technique),
  );
  return [
    `**${escapeMarkdown(segment.name)}** · usual time ${formatTime(segment.time)}`,
    uses.length > 0 ? `Techniques: ${uses.join(', ')}` : 'No techniques used here.',
  ].join('\n\n');
}

function* techniqueHover(needs: HoverNeeds, project: Project, id: string): Steps<string | undefined> {
  const technique = project.techniques.get(currentTechniqueId(project, id) ?? '');
  if (!technique) return undefined;
  const own = runnerFilesOf(project);
  if ('runners' in own) {
    return `**${escapeMarkdown(technique.name)}** · difficulty ${technique.difficulty} of 10\n\n${escapeMarkdown(whoseLogsText(own))} Landing rates are one runner's own.`;
  }
  const tooLarge = tooLargeMessage(project);
  if (tooLarge !== undefined) return `**${escapeMarkdown(technique.name)}**\n\n${escapeMarkdown(tooLarge)}`;
  const names = techniqueNamesOf(project);
  const estimates = yield* needs.techniqueEstimators.of(project, own, technique.id);
  return techniqueText({ technique, names, ...estimates });
}
