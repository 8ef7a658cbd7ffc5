import type { CodeAction, WorkspaceEdit } from 'vscode-languageserver';
import type { Finding } from '../../rules/engine/findings.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import type { FileServices } from '../documents/fileServices.ts';
import type { WorkspaceEditNeeds } from '../documents/workspaceEdit.ts';

/** What actions look at and write edits with. */
export interface ActionServices extends FileServices, WorkspaceEditNeeds {}

/** What actions are asked for: a stretch of a file, with what was found there. */
export interface ActionContext {
  readonly services: ActionServices;
  readonly file: ProjectFile;
  /** The project to speak of; none for a file that belongs to no route. */
  readonly project: Project | undefined;
  /** Offsets of the selection. */
  readonly start: number;
  readonly end: number;
  /** Findings that touch it. */
  readonly findings: readonly Finding[];
}

/** One action of the menu: what it does, as a command, and the edit that does it. */
export function codeAction(
  title: string,
  kind: string,
  edit: WorkspaceEdit,
  rest: Partial<CodeAction> = {},
): CodeAction {
  return { title, kind, ...rest, edit };
}
