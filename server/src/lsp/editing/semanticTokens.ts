import {
  SemanticTokensBuilder,
  type SemanticTokens,
  type SemanticTokensParams,
  type SemanticTokensRangeParams,
} from 'vscode-languageserver';
import type { Span } from '../../files/yaml/problem.ts';
import { currentTechniqueId, type ProjectFile, type Project } from '../../workspace/project.ts';
import { standingModifiers, tokenModifiers, tokenTypes, type TokenModifier } from './tokenLegend.ts';
import { projectsFor, symbolsIn, type Occurrence } from './occurrences.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';
import type { RouteEstimates } from '../estimates/inlineEstimates.ts';

export interface SemanticTokensNeeds extends Pick<FileServices, 'workspace' | 'positions'> {
  readonly inlineEstimatesOf: (project: Project) => RouteEstimates | undefined;
}

const typeOf: Readonly<Record<Occurrence['entityKind'], (typeof tokenTypes)[number]>> = {
  technique: 'function',
  segment: 'event',
  use: 'variable',
  spot: 'enumMember',
  item: 'enumMember',
};

/**
 * Marks ids by the kind of thing that they name; those of techniques also by where the technique stands, and former ids
 * as such. The standings are the last ones computed, so that a keystroke waits for none; where there are none yet, no
 * id is marked by one.
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
  const estimates = project && needs.inlineEstimatesOf(project);
  let last = 0;
  for (const symbol of symbolsIn(file)) {
    const { span } = symbol;
    // Each token is encoded relative to the one before, so one that is empty or out of order would make all later ones
    // wrong.
    if (span.start < Math.max(last, from) || span.end > to || span.end <= span.start) continue;
    if (!onOneLine(file, span)) continue;
    const { line, character } = positions.range(file.uri, span).start;
    const type = tokenTypes.indexOf(typeOf[symbol.entityKind]);
    builder.push(line, character, span.end - span.start, type, modifierBits(project, estimates, symbol));
    last = span.end;
  }
  return builder.build();
}

function modifierBits(
  project: Project | undefined,
  estimates: RouteEstimates | undefined,
  { entityKind, id, defines }: Occurrence,
): number {
  const set: TokenModifier[] = defines ? ['declaration'] : [];
  if (entityKind === 'technique' && project) {
    const current = currentTechniqueId(project, id);
    if (current !== undefined && current !== id) set.push('deprecated');
    const assessment = current === undefined ? undefined : estimates?.assessed.get(current);
    if (assessment) set.push(standingModifiers[assessment.standing.kind]);
  }
  return set.reduce((bits, modifier) => bits | (1 << tokenModifiers.indexOf(modifier)), 0);
}

function onOneLine({ reading }: ProjectFile, { start, end }: Span): boolean {
  return !/[\r\n]/.test(reading.text.slice(start, end));
}
