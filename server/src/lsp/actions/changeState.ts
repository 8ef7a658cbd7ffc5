import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { Standing } from '../../model/core/standing.ts';
import type { SetStateParams } from '../../protocol/messages/week.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import { symbolAt } from '../editing/occurrences.ts';
import type { FileServices } from '../documents/fileServices.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import { toWorkspaceEdit } from '../documents/workspaceEdit.ts';
import type { RouteEstimates } from '../estimates/inlineEstimates.ts';
import { setState } from '../requests/setState.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

export interface ChangeStateNeeds extends FileServices {
  readonly inlineEstimatesOf: (project: Project) => RouteEstimates | undefined;
  readonly client: Pick<ClientFeatures, 'annotations' | 'createsFiles'>;
}

/**
 * Sets a technique's state in the week file: one action for each state that makes sense for where the technique stands.
 * Where there are no estimates yet, every state that the week file does not have is offered.
 */
export async function changeState(
  needs: ChangeStateNeeds,
  { file, project, start }: ActionContext,
): Promise<CodeAction[]> {
  const symbol = symbolAt(file, start);
  const id =
    project && symbol?.entityKind === 'technique' ? currentTechniqueId(project, symbol.id) : undefined;
  if (!project || id === undefined) return [];
  const name = sanitizeForTerminal(project.techniques.get(id)?.name ?? id);
  const standing = needs.inlineEstimatesOf(project)?.assessed.get(id)?.standing;
  const actions: CodeAction[] = [];
  for (const { state, title } of stateChoices(name, standing)) {
    const { edit } = await setState(needs, { uri: project.route.uri, technique: id, state });
    if (!edit || (edit.create && !needs.client.createsFiles)) continue;
    actions.push(codeAction(title, CodeActionKind.RefactorRewrite, toWorkspaceEdit(edit)));
  }
  return actions;
}

interface StateChoice {
  readonly state: SetStateParams['state'];
  readonly title: string;
}

/** The states that change something for a technique where it stands, each with the title of its action. */
function stateChoices(name: string, standing: Standing | undefined): StateChoice[] {
  const inRun: StateChoice = { state: 'in-run', title: `Put ${name} in the run` };
  const takeUp: StateChoice = { state: 'learning', title: `Take up ${name}` };
  const backToPractice: StateChoice = {
    state: 'learning',
    title: `Take ${name} out of the run to practise it`,
  };
  const aside: StateChoice = { state: 'unlearned', title: `Put ${name} aside` };
  if (!standing) return [inRun, takeUp, aside];
  const { kind, tried } = standing;
  // The week file leaves it out, and no state changes that.
  if (kind === 'left-out') return [];
  if (tried) return [backToPractice, aside];
  if (kind === 'learning') return [inRun, aside];
  // A competent technique stays in the run also where the week file says that it is being learned.
  return kind === 'in-run' ? [inRun] : [inRun, takeUp];
}
