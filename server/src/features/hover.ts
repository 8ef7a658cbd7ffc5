import { MarkupKind, type Hover, type HoverParams } from 'vscode-languageserver';
import { formatTime } from '../files/time.ts';
import { schemaAt } from '../files/schema.ts';
import { spotAt } from '../files/tree.ts';
import { toValue } from '../files/value.ts';
import { currentId, type AnyFile, type Project } from '../workspace/project.ts';
import { ownPart } from '../workspace/runner.ts';
import { locationOf } from './definition.ts';
import { markdown } from './markdown.ts';
import { meaningAt, type Meaning } from './meaning.ts';
import { schemaText } from './schemaText.ts';
import { fileName, type Session } from './session.ts';
import { techniqueText } from './techniqueText.ts';

/** What a word of a file says on a closer look: a technique's numbers, a segment's time, or what a key means. */
export function hover(session: Session, { textDocument, position }: HoverParams): Hover | null {
  const file = session.file(textDocument.uri);
  if (!file) return null;
  const offset = session.places.offset(file.uri, position);
  const meaning = meaningAt(file, offset);
  const project = session.workspace.projectOf(file.uri);
  const named = meaning && project && namedText(session, project, meaning);
  if (named) return answer(named + linkTo(session, project, meaning), session, file, meaning.span);

  const spot = spotAt(file.reading.tree, offset);
  const key = spot?.path.at(-1);
  if (spot?.part !== 'key' || typeof key !== 'string') return null;
  const schema = schemaAt(file.kind, spot.path, toValue(file.reading.tree));
  // Where keys are free, as ids are, the schema speaks of what stands under them.
  return schema && !meaning ? answer(schemaText(key, schema), session, file, spot.span) : null;
}

function answer(value: string, session: Session, file: AnyFile, span: Meaning['span']): Hover {
  return {
    contents: { kind: MarkupKind.Markdown, value },
    range: session.places.range(file.uri, span),
  };
}

/** A link to where it is defined, unless that is where one is. */
function linkTo(session: Session, project: Project, meaning: Meaning): string {
  const place = meaning.defines ? undefined : locationOf(session, project, meaning);
  if (!place) return '';
  const where = `${fileName(place.uri)}, line ${place.range.start.line + 1}`;
  return `\n\n[${markdown(where)}](${place.uri}#L${place.range.start.line + 1})`;
}

function namedText(session: Session, project: Project, meaning: Meaning): string | undefined {
  if (meaning.thing === 'technique') return ofTechnique(session, project, meaning.id);
  if (meaning.thing !== 'segment') return undefined;
  const segment = project.segments.find(({ id }) => id === meaning.id);
  if (!segment) return undefined;
  const uses = segment.uses.map(({ technique }) => `\`${technique}\``);
  return [
    `**${markdown(segment.name)}** · usual time ${formatTime(segment.time)}`,
    uses.length > 0 ? `Techniques: ${uses.join(', ')}` : 'No techniques used here.',
  ].join('\n\n');
}

function ofTechnique(session: Session, project: Project, id: string): string | undefined {
  const technique = project.techniques.get(currentId(project, id) ?? '');
  if (!technique) return undefined;
  const own = ownPart(project);
  if ('runners' in own) {
    return `**${markdown(technique.name)}** · difficulty ${technique.difficulty} of 10\n\nThe logs name several runners (${own.runners.map(markdown).join(', ')}), and a ranking needs one.`;
  }
  const { estimates } = session;
  return techniqueText({
    technique,
    question: estimates.question(project, own),
    assessment: estimates.assessment(project, own, [technique.id]).get(technique.id),
    report: estimates.ranking(project, own),
  });
}
