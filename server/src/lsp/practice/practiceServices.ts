import type { FileSource } from '../../workspace/fileSource.ts';
import type { FileServices } from '../documents/fileServices.ts';
import type { WorkspaceEditNeeds } from '../documents/workspaceEdit.ts';
import type { WorkspaceSync } from '../documents/workspaceSync.ts';
import type { Estimates } from '../estimates/estimates.ts';

/** What logging and practice use of the server: the files, also those outside the editor, and the numbers. */
export interface PracticeServices extends FileServices, WorkspaceEditNeeds {
  readonly source: Pick<FileSource, 'read'>;
  readonly sync: Pick<WorkspaceSync, 'ready'>;
  readonly estimates: Estimates;
}
