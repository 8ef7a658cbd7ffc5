import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { nameLookup, techniqueNamesOf } from '../../queries/names.ts';
import { swapText } from '../../reports/plan/swapText.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { toWorkspaceEdit } from '../documents/workspaceEdit.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import { swap } from '../requests/setState.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

export interface MakeSwapsNeeds extends FileServices {
  readonly estimates: Estimates;
  readonly panelReports: PanelReports;
}

/**
 * The swaps that the plan offers, in the runner's week file: each puts a technique aside and takes another up by one edit.
 *
 * @param asked whether a person asked for the actions: then the plan is made where it is not known. An editor that asks
 *   at every move of the cursor gets the swaps of the plan that is known
 */
export async function makeSwaps(
  needs: MakeSwapsNeeds,
  { file, project }: ActionContext,
  asked: boolean,
): Promise<CodeAction[]> {
  if (file.kind !== 'week' || !project) return [];
  const own = runnerFilesOf(project);
  if ('runners' in own || own.week?.uri !== file.uri) return [];
  const { estimates, panelReports } = needs;
  const modelInput = estimates.modelInput(project, own);
  const weekInput = panelReports.weekPlanInput(project, own, modelInput);
  const { report, fresh } = panelReports.week(project, modelInput, weekInput, asked);
  if (!report || !fresh) return [];
  const nameOf = nameLookup(techniqueNamesOf(project));
  const actions: CodeAction[] = [];
  for (const { technique, instead, title } of report.swaps.map((offer) => swapText(offer, nameOf))) {
    const { edit } = await swap(needs, { uri: file.uri, technique, instead });
    if (!edit) continue;
    actions.push(
      codeAction(sanitizeForTerminal(title), CodeActionKind.RefactorRewrite, toWorkspaceEdit(edit)),
    );
  }
  return actions;
}
