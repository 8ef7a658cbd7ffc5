import { CodeActionKind } from 'vscode-languageserver';

/** The kind of the action that corrects a whole file. An editor's setting for actions on saving uses this name. */
export const fixAllKind = `${CodeActionKind.SourceFixAll}.routewright`;

/** Every kind of action that the server offers. */
export const codeActionKinds: readonly string[] = [
  CodeActionKind.QuickFix,
  CodeActionKind.RefactorRewrite,
  fixAllKind,
];
