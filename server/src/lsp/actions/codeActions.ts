import { CodeActionKind, type CodeAction, type CodeActionParams } from 'vscode-languageserver';
import type { ActionContext } from './actionContext.ts';
import { allowFinding } from './allowFinding.ts';
import { changeState } from './changeState.ts';
import { convertTime } from './convertTime.ts';
import { createTechnique } from './createTechnique.ts';
import { fillPractice } from './fillPractice.ts';
import { fixAll, quickFixes } from './quickFixes.ts';
import { moveToOwnSpot } from './moveToOwnSpot.ts';
import { expandUse } from './expandUse.ts';
import { fixAllKind } from '../server/capabilities.ts';
import type { Session } from '../server/session.ts';

/**
 * What can be done about a selection: the fixes of what was found there, ways to write it otherwise, and where the
 * editor asks for it by name, as when a file is saved, all fixes of the file at once.
 */
export async function codeActions(
  session: Session,
  { textDocument, range, context }: CodeActionParams,
): Promise<CodeAction[]> {
  const file = session.file(textDocument.uri);
  if (!file) return [];
  const wants = (kind: string): boolean =>
    !context.only || context.only.some((only) => kind === only || kind.startsWith(`${only}.`) || only === '');
  const start = session.positions.offset(file.uri, range.start);
  const end = session.positions.offset(file.uri, range.end);
  const findings = session.findings
    .of(file.uri)
    .filter((finding) => finding.start <= end && finding.end >= start);
  const project = session.workspace.projectOf(file.uri);
  const asked: ActionContext = { session, file, project, start, end, findings };
  const actions: CodeAction[] = [];
  if (wants(CodeActionKind.QuickFix)) {
    actions.push(...quickFixes(asked), ...createTechnique(asked), ...allowFinding(asked));
  }
  if (wants(CodeActionKind.RefactorRewrite)) {
    actions.push(...convertTime(asked), ...moveToOwnSpot(asked), ...fillPractice(asked), ...expandUse(asked));
    actions.push(...(await changeState(asked)));
  }
  // Offered by name only: in a menu it would stand beside every single fix.
  const all = context.only && wants(fixAllKind) ? fixAll(session, file) : undefined;
  return all ? [...actions, all] : actions;
}
