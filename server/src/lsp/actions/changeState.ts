import { CodeActionKind, type CodeAction, type WorkspaceEdit } from 'vscode-languageserver';
import type { SetStateResult } from '../../protocol/messages.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { stateLabels } from '../../queries/techniqueStates.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { symbolAt } from '../editing/occurrences.ts';
import { setState } from '../requests/setState.ts';
import { currentStates } from '../estimates/currentStates.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

/** Sets what a technique is to the runner, in the week file: the states that it does not have now. */
export async function changeState({ session, file, project, start }: ActionContext): Promise<CodeAction[]> {
  const asked = symbolAt(file, start);
  const id = project && asked?.entityKind === 'technique' ? currentTechniqueId(project, asked.id) : undefined;
  if (!project || id === undefined) return [];
  const states = currentStates(session, project);
  if (!states) return [];
  const now = states.get(id) ?? 'unlearned';
  const name = sanitizeForTerminal(project.techniques.get(id)?.name ?? id);
  const actions: CodeAction[] = [];
  for (const state of ['in-run', 'learning', 'unlearned'] as const) {
    if (state === now) continue;
    const { edit } = await setState(session, { uri: project.route.uri, technique: id, state });
    if (!edit || (edit.create && !session.client.createsFiles)) continue;
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

function toWorkspaceEdit({
  uri,
  version,
  range,
  newText,
  create,
}: NonNullable<SetStateResult['edit']>): WorkspaceEdit {
  return {
    documentChanges: [
      ...(create ? [{ kind: 'create' as const, uri }] : []),
      { textDocument: { uri, version }, edits: [{ range, newText }] },
    ],
  };
}
