import {
  CodeActionKind,
  CodeActionTriggerKind,
  type CodeAction,
  type CodeActionParams,
} from 'vscode-languageserver';
import type { ActionContext, ActionServices } from './actionContext.ts';
import { allowFinding } from './allowFinding.ts';
import { changeState, type ChangeStateNeeds } from './changeState.ts';
import { convertTime } from './convertTime.ts';
import { createTechnique } from './createTechnique.ts';
import { fillPractice } from './fillPractice.ts';
import { makeSwaps, type MakeSwapsNeeds } from './makeSwaps.ts';
import { fixAll, quickFixes } from './quickFixes.ts';
import { moveToOwnSpot } from './moveToOwnSpot.ts';
import { expandUse } from './expandUse.ts';
import { fixAllKind } from './codeActionKinds.ts';
import type { CheckScheduler } from '../checking/checkScheduler.ts';
import type { FindingStore } from '../checking/findingStore.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import type { StopSignal } from '../documents/eventLoop.ts';
import { fileAt } from '../documents/fileServices.ts';

export interface CodeActionNeeds extends ActionServices, ChangeStateNeeds, MakeSwapsNeeds {
  readonly client: Pick<ClientFeatures, 'annotations' | 'createsFiles'>;
  readonly findings: FindingStore;
  /** Files are checked again first, so that every fix is for the latest text. */
  readonly checks: Pick<CheckScheduler, 'checkPendingEdits'>;
}

/**
 * The actions for a selection: fixes of the findings there, other ways to write it, and, where the editor requests them
 * by their kind, as when a file is saved, all fixes of the file at once.
 */
export function codeActionProvider(
  needs: CodeActionNeeds,
): (params: CodeActionParams, signal: StopSignal) => Promise<CodeAction[]> {
  return async ({ textDocument, range, context }, signal) => {
    needs.checks.checkPendingEdits();
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file) return [];
    const wants = (kind: string): boolean =>
      !context.only ||
      context.only.some((only) => kind === only || kind.startsWith(`${only}.`) || only === '');
    const start = needs.positions.offset(file.uri, range.start);
    const end = needs.positions.offset(file.uri, range.end);
    const findings = needs.findings
      .of(file.uri)
      .filter((finding) => finding.start <= end && finding.end >= start);
    const project = needs.workspace.projectOf(file.uri);
    const actionContext: ActionContext = { services: needs, file, project, start, end, findings };
    const actions: CodeAction[] = [];
    if (wants(CodeActionKind.QuickFix)) {
      actions.push(
        ...quickFixes(actionContext),
        ...createTechnique(actionContext),
        ...allowFinding(actionContext),
      );
    }
    if (wants(CodeActionKind.RefactorRewrite)) {
      actions.push(
        ...convertTime(actionContext),
        ...moveToOwnSpot(actionContext),
        ...fillPractice(actionContext),
        ...expandUse(actionContext),
      );
      actions.push(...(await changeState(needs, actionContext)));
      const asked = context.triggerKind === CodeActionTriggerKind.Invoked;
      actions.push(...(await makeSwaps(needs, actionContext, asked, signal)));
    }
    // Offered only when its kind is requested: in a menu it would appear next to every single fix.
    const all = context.only && wants(fixAllKind) ? fixAll(needs, file) : undefined;
    return all ? [...actions, all] : actions;
  };
}
