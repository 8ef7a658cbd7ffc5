import type { WorkspaceEdit } from 'vscode-languageserver';
import { setNumber } from '../../files/edit/editPath.ts';
import type { CorrectCycleParams } from '../../protocol/messages/practiceBlock.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { resolveProject } from '../requests/resolveProject.ts';
import { fileName, normalUri } from '../documents/uris.ts';
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
  const resolved = resolveProject(services.workspace, normalUri(uri));
  if ('message' in resolved) return resolved;
  const id = currentTechniqueId(resolved.project, technique);
  const defined = id === undefined ? undefined : resolved.project.techniques.get(id);
  const file = defined && fileAt(services.workspace, defined.uri);
  if (!defined || !file || !(cycle > 0))
    return { message: `The route has no technique ${sanitizeForTerminal(technique)}.` };
  const { attempt } = defined.practice;
  const rest = Math.round(10 * (cycle - attempt)) / 10;
  const key = rest >= 0 ? 'reload' : 'attempt';
  const seconds = rest >= 0 ? rest : Math.round(10 * Math.max(0.1, cycle - defined.practice.reload)) / 10;
  const edit = setNumber(file.reading, [...defined.path, 'practice'], key, seconds, {
    afterKeys: ['loses', 'saves'],
    after: ['attempt'],
  });
  const name = sanitizeForTerminal(defined.name);
  if (!edit)
    return {
      message: `${fileName(file.uri)} is written in a way that no safe edit fits. Write ${key}: ${seconds} under practice: of ${name} by hand.`,
    };
  return {
    edit: workspaceEdit(services, [{ uri: file.uri, ...edit }]),
    message: `The cycle of ${name} is ${cycle} s now in ${fileName(file.uri)}, to be saved.`,
  };
}
