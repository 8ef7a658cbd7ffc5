import type { ProjectFile } from '../../workspace/project.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { OpenDocuments } from './openDocuments.ts';
import type { PositionConverter } from './positionConverter.ts';
import { normalUri } from './uris.ts';

/** What nearly every feature reads: the files with their meaning, their places, and how the client spells them. */
export interface FileServices {
  readonly workspace: Workspace;
  readonly documents: OpenDocuments;
  readonly positions: PositionConverter;
}

/** The file that a request names, as the editor shows it now; undefined for any that is none of ours. */
export function fileAt(workspace: Workspace, uri: string): ProjectFile | undefined {
  return workspace.file(normalUri(uri));
}
