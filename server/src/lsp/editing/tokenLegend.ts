import type { SemanticTokensLegend } from 'vscode-languageserver';

export const tokenTypes = ['function', 'event', 'variable', 'enumMember'] as const;
export const tokenModifiers = ['declaration', 'deprecated', 'inRun', 'learning', 'unlearned'] as const;

/** Types and modifiers of the protocol where one fits; the state of a technique is a modifier of our own. */
export const tokenLegend: SemanticTokensLegend = {
  tokenTypes: [...tokenTypes],
  tokenModifiers: [...tokenModifiers],
};
