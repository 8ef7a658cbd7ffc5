import { CodeActionKind } from 'vscode-languageserver';

/** The kind of the action that corrects a whole file, under the name that an editor's setting for saving uses. */
export const fixAllKind = `${CodeActionKind.SourceFixAll}.routewright`;

/** Every kind of action that the server offers. */
export const codeActionKinds: readonly string[] = [
  CodeActionKind.QuickFix,
  CodeActionKind.RefactorRewrite,
  fixAllKind,
];
