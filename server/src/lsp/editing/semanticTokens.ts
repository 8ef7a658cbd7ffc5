import {
  SemanticTokensBuilder,
  type SemanticTokens,
  type SemanticTokensParams,
  type SemanticTokensRangeParams,
} from 'vscode-languageserver';
import type { Span } from '../../files/yaml/problem.ts';
import { currentTechniqueId, type ProjectFile, type Project } from '../../workspace/project.ts';
import { tokenModifiers, tokenTypes } from './tokenLegend.ts';
import { projectsFor, symbolsIn, type Occurrence } from './occurrences.ts';
import { currentStates } from '../estimates/currentStates.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';
import type { Estimates } from '../estimates/estimates.ts';

export interface SemanticTokensNeeds extends Pick<FileServices, 'workspace' | 'positions'> {
  readonly estimates: Estimates;
}

const typeOf: Readonly<Record<Occurrence['entityKind'], (typeof tokenTypes)[number]>> = {
  technique: 'function',
  segment: 'event',
  use: 'variable',
  spot: 'enumMember',
  item: 'enumMember',
};

const modifierOf = { 'in-run': 'inRun', learning: 'learning', unlearned: 'unlearned' } as const;

/**
 * Marks ids by the kind of thing that they name; those of techniques also by the technique's state, and former ids as
 * such.
 */
export function semanticTokensProvider(
  needs: SemanticTokensNeeds,
): (params: SemanticTokensParams | SemanticTokensRangeParams) => SemanticTokens {
  return (params) => tokensOf(needs, params.textDocument.uri, 'range' in params ? params.range : undefined);
}

function tokensOf(
  needs: SemanticTokensNeeds,
  uri: string,
  within: SemanticTokensRangeParams['range'] | undefined,
): SemanticTokens {
  const file = fileAt(needs.workspace, uri);
  const builder = new SemanticTokensBuilder();
  if (!file) return builder.build();
  const { positions } = needs;
  const from = within ? positions.offset(file.uri, within.start) : 0;
  const to = within ? positions.offset(file.uri, within.end) : Infinity;
  const [project] = projectsFor(needs.workspace, file);
  const states = project && currentStates(needs.estimates, project);
  let last = 0;
  for (const symbol of symbolsIn(file)) {
    const { span } = symbol;
    // Each token is encoded relative to the one before, so one that is empty or out of order would make all later ones
    // wrong.
    if (span.start < Math.max(last, from) || span.end > to || span.end <= span.start) continue;
    if (!onOneLine(file, span)) continue;
    const { line, character } = positions.range(file.uri, span).start;
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
  { entityKind, id, defines }: Occurrence,
): number {
  const set: (typeof tokenModifiers)[number][] = defines ? ['declaration'] : [];
  if (entityKind === 'technique' && project) {
    const current = currentTechniqueId(project, id);
    if (current !== undefined && current !== id) set.push('deprecated');
    if (current !== undefined && states) set.push(modifierOf[states.get(current) ?? 'unlearned']);
  }
  return set.reduce((bits, modifier) => bits | (1 << tokenModifiers.indexOf(modifier)), 0);
}

function onOneLine({ reading }: ProjectFile, { start, end }: Span): boolean {
  return !/[\r\n]/.test(reading.text.slice(start, end));
}
