import { CodeActionKind, type CodeAction, type WorkspaceEdit } from 'vscode-languageserver';
import type { State } from '../../files/documents/documents.ts';
import type { SetStateResult } from '../../protocol/messages.ts';
import { plainText } from '../../text/terminalText.ts';
import { currentId } from '../../workspace/project.ts';
import { symbolAt } from '../editing/occurrences.ts';
import { setState } from '../requests/setState.ts';
import { statesNow } from '../estimates/currentStates.ts';
import { action, type Asked } from './actionContext.ts';

const words: Readonly<Record<State, string>> = {
  unlearned: 'not begun',
  learning: 'being learned',
  'in-run': 'in the run',
};

/** Sets what a technique is to the runner, in the week file: the states that it does not have now. */
export async function changeState({ session, file, project, start }: Asked): Promise<CodeAction[]> {
  const asked = symbolAt(file, start);
  const id = project && asked?.thing === 'technique' ? currentId(project, asked.id) : undefined;
  if (!project || id === undefined) return [];
  const states = statesNow(session, project);
  if (!states) return [];
  const now = states.get(id) ?? 'unlearned';
  const name = plainText(project.techniques.get(id)?.name ?? id);
  const actions: CodeAction[] = [];
  for (const state of ['in-run', 'learning', 'unlearned'] as const) {
    if (state === now) continue;
    const { edit } = await setState(session, { uri: project.route.uri, technique: id, state });
    if (!edit || (edit.create && !session.client.createsFiles)) continue;
    actions.push(action(`Set ${name} to ${words[state]}`, CodeActionKind.RefactorRewrite, asEdit(edit)));
  }
  return actions;
}

function asEdit({
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
