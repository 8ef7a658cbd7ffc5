import { shownQuotes } from '../../text/shownQuotes.ts';
import type { CodeAction, WorkspaceEdit } from 'vscode-languageserver';
import type { Finding } from '../../rules/engine/findings.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import type { FileServices } from '../documents/fileServices.ts';
import type { WorkspaceEditNeeds } from '../documents/workspaceEdit.ts';
import type { Estimates } from '../estimates/estimates.ts';

/** What actions need to read files and to write edits; and the day that answers are for. */
export interface ActionServices extends FileServices, WorkspaceEditNeeds {
  readonly estimates: Estimates;
}

/** What actions are computed for: a selection in a file, with the findings in it. */
export interface ActionContext {
  readonly services: ActionServices;
  readonly file: ProjectFile;
  /** The project of the file; undefined for a file that belongs to no route. */
  readonly project: Project | undefined;
  /** Offsets of the selection. */
  readonly start: number;
  readonly end: number;
  /** Findings that overlap the selection. */
  readonly findings: readonly Finding[];
}

/** One action of the menu: its title, worded as a command, and its edit. */
export function codeAction(
  title: string,
  kind: string,
  edit: WorkspaceEdit,
  rest: Partial<CodeAction> = {},
): CodeAction {
  return { title: shownQuotes(title), kind, ...rest, edit };
}
