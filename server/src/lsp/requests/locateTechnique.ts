import type { LocateTechniqueParams, LocateTechniqueResult } from '../../protocol/messages/panel.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { techniqueLocation } from '../editing/definition.ts';
import { resolveProject } from './resolveProject.ts';

/** Where a technique is defined; null where it is not. */
export function locateTechniqueHandler(
  needs: FileServices,
): (params: LocateTechniqueParams) => LocateTechniqueResult {
  return ({ uri, technique }) => {
    const resolved = resolveProject(needs.workspace, uri);
    return 'message' in resolved ? null : (techniqueLocation(needs, resolved.project, technique) ?? null);
  };
}
