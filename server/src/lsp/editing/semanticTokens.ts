import {
  SemanticTokensBuilder,
  type SemanticTokens,
  type SemanticTokensParams,
  type SemanticTokensRangeParams,
} from 'vscode-languageserver';
import type { Span } from '../../files/yaml/problem.ts';
import { currentTechniqueId, type ProjectFile, type Project } from '../../workspace/project.ts';
import { tokenModifiers, tokenTypes } from '../server/capabilities.ts';
import { projectsFor, symbolsIn, type Occurrence } from './occurrences.ts';
import type { Session } from '../server/session.ts';
import { currentStates } from '../estimates/currentStates.ts';

const typeOf: Readonly<Record<Occurrence['entityKind'], (typeof tokenTypes)[number]>> = {
  technique: 'function',
  segment: 'event',
  use: 'variable',
  spot: 'enumMember',
  item: 'enumMember',
};

const modifierOf = { 'in-run': 'inRun', learning: 'learning', unlearned: 'unlearned' } as const;

/** Ids by what they name; those of techniques also by what each is to the runner, and former ids as such. */
export function semanticTokens(
  session: Session,
  { textDocument }: SemanticTokensParams | SemanticTokensRangeParams,
  within?: SemanticTokensRangeParams['range'],
): SemanticTokens {
  const file = session.file(textDocument.uri);
  const builder = new SemanticTokensBuilder();
  if (!file) return builder.build();
  const { positions: places } = session;
  const from = within ? places.offset(file.uri, within.start) : 0;
  const to = within ? places.offset(file.uri, within.end) : Infinity;
  const [project] = projectsFor(session, file);
  const states = project && currentStates(session, project);
  let last = 0;
  for (const symbol of symbolsIn(file)) {
    const { span } = symbol;
    // Tokens follow each other, and an empty or broken one would spoil those behind it.
    if (span.start < Math.max(last, from) || span.end > to || span.end <= span.start) continue;
    if (!onOneLine(file, span)) continue;
    const { line, character } = places.range(file.uri, span).start;
    const type = tokenTypes.indexOf(typeOf[symbol.entityKind]);
    builder.push(line, character, span.end - span.start, type, modifierBits(project, states, symbol));
    last = span.end;
  }
  return builder.build();
}

type States = ReturnType<typeof currentStates>;

function modifierBits(
  project: Project | undefined,
  states: States,
  { entityKind: thing, id, defines }: Occurrence,
): number {
  const set: (typeof tokenModifiers)[number][] = defines ? ['declaration'] : [];
  if (thing === 'technique' && project) {
    const current = currentTechniqueId(project, id);
    if (current !== undefined && current !== id) set.push('deprecated');
    if (current !== undefined && states) set.push(modifierOf[states.get(current) ?? 'unlearned']);
  }
  return set.reduce((bits, modifier) => bits | (1 << tokenModifiers.indexOf(modifier)), 0);
}

function onOneLine({ reading }: ProjectFile, { start, end }: Span): boolean {
  return !/[\r\n]/.test(reading.text.slice(start, end));
}
