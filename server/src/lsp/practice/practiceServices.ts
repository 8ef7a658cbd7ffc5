import type { FileServices } from '../documents/fileServices.ts';
import type { WorkspaceEditNeeds } from '../documents/workspaceEdit.ts';
import type { WorkspaceSync } from '../documents/workspaceSync.ts';
import type { Estimates } from '../estimates/estimates.ts';

/**
 * The services that logging and practice use: the files, also those that are not open in the editor, and the estimates.
 */
export interface PracticeServices extends FileServices, WorkspaceEditNeeds {
  readonly sync: Pick<WorkspaceSync, 'ready' | 'filesChanged'>;
  readonly estimates: Estimates;
}
