import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import type { Steps } from '../../incremental/steps.ts';
import type { Plan } from '../../model/week/planWeek.ts';
import { nameLookup, techniqueNamesOf } from '../../queries/names.ts';
import { swapText } from '../../reports/plan/swapText.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { Project } from '../../workspace/project.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { runInTurns, type StopSignal } from '../documents/eventLoop.ts';
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
  signal: StopSignal,
): Promise<CodeAction[]> {
  if (file.kind !== 'week' || !project) return [];
  const own = runnerFilesOf(project);
  if ('runners' in own || own.week?.uri !== file.uri) return [];
  const plan = await runInTurns(planOf(needs, project, own, asked), signal);
  if (!plan) return [];
  const nameOf = nameLookup(techniqueNamesOf(project));
  const actions: CodeAction[] = [];
  for (const { technique, instead, title } of plan.swaps.map((offer) => swapText(offer, nameOf))) {
    const { edit } = await swap(needs, { uri: file.uri, technique, instead });
    if (!edit) continue;
    actions.push(
      codeAction(sanitizeForTerminal(title), CodeActionKind.RefactorRewrite, toWorkspaceEdit(edit)),
    );
  }
  return actions;
}

/** The plan for the files as they are now, where it is known or may be made. */
function* planOf(
  { estimates, panelReports }: MakeSwapsNeeds,
  project: Project,
  own: RunnerFiles,
  asked: boolean,
): Steps<Plan | undefined> {
  const modelInput = yield* estimates.modelInput(project, own);
  const weekInput = panelReports.weekPlanInput(project, own, modelInput);
  const { report, fresh } = yield* panelReports.week(project, modelInput, weekInput, asked);
  return fresh ? report : undefined;
}
