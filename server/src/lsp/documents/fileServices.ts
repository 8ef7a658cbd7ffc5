import type { ProjectFile } from '../../workspace/project.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { OpenDocuments } from './openDocuments.ts';
import type { PositionConverter } from './positionConverter.ts';
import { normalUri } from './uris.ts';

/** What nearly every feature reads: the parsed files, positions in them, and the client's spelling of their URIs. */
export interface FileServices {
  readonly workspace: Workspace;
  readonly documents: OpenDocuments;
  readonly positions: PositionConverter;
}

/** The file that a request names, as the editor shows it now; undefined for a file that belongs to no route. */
export function fileAt(workspace: Workspace, uri: string): ProjectFile | undefined {
  return workspace.file(normalUri(uri));
}
