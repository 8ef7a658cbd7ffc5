import type { WorkspaceEdit } from 'vscode-languageserver';
import { setNumber } from '../../files/edit/editPath.ts';
import type { CorrectCycleParams } from '../../protocol/messages/practiceBlock.ts';
import { resolveTechnique } from '../requests/resolveProject.ts';
import { fileName } from '../documents/uris.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { fileAt } from '../documents/fileServices.ts';
import type { PracticeServices } from './practiceServices.ts';

/**
 * The edit that gives a technique another cycle in the route: the way back takes what the attempt leaves of
 * the cycle. Where the attempt alone is longer than the cycle, the attempt is changed.
 */
export function correctCycle(
  services: PracticeServices,
  { uri, technique, cycle }: CorrectCycleParams,
): { readonly edit?: WorkspaceEdit; readonly message: string } {
  const resolved = resolveTechnique(services.workspace, uri, technique);
  if ('message' in resolved) return resolved;
  if (!(cycle > 0)) return { message: `A cycle is longer than 0 s, and not ${cycle} s.` };
  const { name, definition } = resolved;
  const file = fileAt(services.workspace, definition.uri)!;
  const { attempt } = definition.practice;
  const rest = Math.round(10 * (cycle - attempt)) / 10;
  const key = rest >= 0 ? 'reload' : 'attempt';
  const seconds = rest >= 0 ? rest : Math.round(10 * Math.max(0.1, cycle - definition.practice.reload)) / 10;
  const edit = setNumber(file.reading, [...definition.path, 'practice'], key, seconds, {
    afterKeys: ['loses', 'saves'],
    after: ['attempt'],
  });
  if (!edit)
    return {
      message: `${fileName(file.uri)} is written in a way that no safe edit fits. Write ${key}: ${seconds} under practice: of ${name} by hand.`,
    };
  return {
    edit: workspaceEdit(services, [{ uri: file.uri, ...edit }]),
    message: `The cycle of ${name} is ${cycle} s now in ${fileName(file.uri)}, to be saved.`,
  };
}
