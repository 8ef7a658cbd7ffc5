import type { SemanticTokensLegend } from 'vscode-languageserver';
import type { StandingKind } from '../../model/core/types.ts';

export const tokenTypes = ['function', 'event', 'variable', 'enumMember'] as const;

/** The modifier of a technique's id for each standing of the technique. */
export const standingModifiers = {
  'left-out': 'leftOut',
  waiting: 'waiting',
  again: 'again',
  'in-run': 'inRun',
  learning: 'learning',
  aside: 'aside',
  'not-begun': 'notBegun',
} as const satisfies Record<StandingKind, string>;

type StandingModifier = (typeof standingModifiers)[StandingKind];
export type TokenModifier = 'declaration' | 'deprecated' | StandingModifier;
export const tokenModifiers: readonly TokenModifier[] = [
  'declaration',
  'deprecated',
  ...Object.values(standingModifiers),
];

/** Types and modifiers of the protocol where one fits; the standing of a technique is a modifier of our own. */
export const tokenLegend: SemanticTokensLegend = {
  tokenTypes: [...tokenTypes],
  tokenModifiers: [...tokenModifiers],
};
