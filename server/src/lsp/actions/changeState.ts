import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { stateLabels } from '../../queries/techniqueStates.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { symbolAt } from '../editing/occurrences.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import { toWorkspaceEdit } from '../documents/workspaceEdit.ts';
import type { Estimates } from '../estimates/estimates.ts';
import { setState } from '../requests/setState.ts';
import type { WeekFileNeeds } from '../requests/weekFile.ts';
import { currentStates } from '../estimates/currentStates.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

export interface ChangeStateNeeds extends WeekFileNeeds {
  readonly estimates: Estimates;
  readonly client: Pick<ClientFeatures, 'annotations' | 'createsFiles'>;
}

/** Sets a technique's state in the week file: one action for each state that the technique does not have now. */
export async function changeState(
  needs: ChangeStateNeeds,
  { file, project, start }: ActionContext,
): Promise<CodeAction[]> {
  const symbol = symbolAt(file, start);
  const id =
    project && symbol?.entityKind === 'technique' ? currentTechniqueId(project, symbol.id) : undefined;
  if (!project || id === undefined) return [];
  const states = currentStates(needs.estimates, project);
  if (!states) return [];
  const now = states.get(id) ?? 'unlearned';
  const name = sanitizeForTerminal(project.techniques.get(id)?.name ?? id);
  const actions: CodeAction[] = [];
  for (const state of ['in-run', 'learning', 'unlearned'] as const) {
    if (state === now) continue;
    const { edit } = await setState(needs, { uri: project.route.uri, technique: id, state });
    if (!edit || (edit.create && !needs.client.createsFiles)) continue;
    actions.push(
      codeAction(
        `Set ${name} to ${stateLabels[state]}`,
        CodeActionKind.RefactorRewrite,
        toWorkspaceEdit(edit),
      ),
    );
  }
  return actions;
}
