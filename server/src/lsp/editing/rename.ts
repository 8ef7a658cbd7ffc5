import {
  ErrorCodes,
  ResponseError,
  type PrepareRenameParams,
  type Range,
  type RenameParams,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { isFullyRead } from '../../files/reading/fullyRead.ts';
import { isId, longestId } from '../../files/schema/ids.ts';
import { shortened } from '../../text/format.ts';
import { readSource } from '../../files/reading/reading.ts';
import { currentTechniqueId, type ProjectFile } from '../../workspace/project.ts';
import { formerIdEdit } from './formerIdEdit.ts';
import {
  occurrences,
  projectsFor,
  symbolAt,
  symbolsIn,
  relatedProjects,
  type RouteSymbol,
  type Occurrence,
} from './occurrences.ts';
import { fileName } from '../documents/uris.ts';
import { applyEdits } from '../../files/edit/textEdit.ts';
import { workspaceEdit, type PlacedEdit, type WorkspaceEditNeeds } from '../documents/workspaceEdit.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';
import type { WorkspaceSync } from '../documents/workspaceSync.ts';

export interface RenameNeeds extends FileServices, WorkspaceEditNeeds {
  readonly sync: Pick<WorkspaceSync, 'refresh'>;
}

/**
 * What would be renamed at a position; null where there is no name, an error with the reason where it cannot be
 * renamed.
 */
export function prepareRenameProvider(
  needs: FileServices,
): (params: PrepareRenameParams) => { range: Range; placeholder: string } | ResponseError | null {
  return ({ textDocument, position }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    const symbol = file && symbolAt(file, needs.positions.offset(file.uri, position));
    if (!symbol) return null;
    const refusal = renameObstacle(needs, file, symbol);
    if (refusal !== undefined) return renameError(refusal);
    return { range: needs.positions.range(file.uri, symbol.span), placeholder: symbol.id };
  };
}

/**
 * The edits that give a technique, segment, use, spot or item another id wherever it is named. Files that are not open
 * are included and read again first. A technique keeps its former id under `was`, so that logs outside this workspace
 * stay valid; that is an edit of its own, which a person can refuse.
 */
export function renameProvider(
  needs: RenameNeeds,
): (params: RenameParams) => Promise<WorkspaceEdit | ResponseError | null> {
  return async ({ textDocument, position, newName }) => {
    await needs.sync.refresh();
    const file = fileAt(needs.workspace, textDocument.uri);
    const symbol = file && symbolAt(file, needs.positions.offset(file.uri, position));
    if (!symbol) return null;
    const name = newName.trim();
    const refusal =
      renameObstacle(needs, file, symbol) ??
      invalidIdMessage(name) ??
      nameConflict(needs, file, symbol, name);
    if (refusal !== undefined) return renameError(refusal);
    if (name === symbol.id) return null;

    const places = occurrences(needs.workspace, file, symbol).filter(({ id }) => id === symbol.id);
    const edits: PlacedEdit[] = places.map(({ uri, span }) => ({ uri, ...span, text: name }));
    // One edit for each file, even where a faulty file defines the technique several times.
    const defining = places.filter(({ entityKind, defines }) => entityKind === 'technique' && defines);
    for (const uri of new Set(defining.map((place) => place.uri))) {
      const addFormerId = formerIdEdit(needs.workspace, uri, symbol.id, name);
      if (addFormerId) edits.push({ uri, ...addFormerId, label: `Keep logs valid that say ${symbol.id}` });
    }
    const broken = unreadableFileMessage(needs, file, symbol, places) ?? unsafeEditMessage(needs, edits);
    return broken === undefined ? workspaceEdit(needs, edits) : renameError(broken);
  };
}

function renameError(message: string): ResponseError {
  return new ResponseError(ErrorCodes.InvalidParams, message);
}

/** Why the name at this place cannot be renamed. */
function renameObstacle(needs: FileServices, file: ProjectFile, symbol: RouteSymbol): string | undefined {
  const { entityKind, id } = symbol;
  if (needs.positions.text(file.uri, symbol.span) !== id)
    return `${id} is written with escapes here. Write it plainly first.`;
  const [project] = projectsFor(needs.workspace, file);
  if (entityKind === 'technique') {
    const current = project && currentTechniqueId(project, id);
    if (current !== undefined && current !== id)
      return `${id} is a former id of ${current}. Rename ${current} where it is defined.`;
    if (isDefined(needs, file, symbol)) return undefined;
    return `No technique of this route has the id ${id}. Define it or correct the id first.`;
  }
  if (entityKind === 'spot' || entityKind === 'item' || isDefined(needs, file, symbol)) return undefined;
  return `No ${entityKind} of this route has the id ${id}. Define it or correct the id first.`;
}

function isDefined(needs: FileServices, file: ProjectFile, symbol: RouteSymbol): boolean {
  return occurrences(needs.workspace, file, symbol).some(({ id, defines }) => defines && id === symbol.id);
}

function invalidIdMessage(name: string): string | undefined {
  if (isId(name)) return undefined;
  return `${JSON.stringify(shortened(name))} is no id. An id begins with a small letter and has small letters, digits and hyphens only, ${longestId} characters at most.`;
}

/** An error message where the new name is used already. */
function nameConflict(
  needs: FileServices,
  file: ProjectFile,
  symbol: RouteSymbol,
  name: string,
): string | undefined {
  if (name === symbol.id) return undefined;
  const { entityKind, scope } = symbol;
  const same = occurrences(needs.workspace, file, { ...symbol, id: name });
  const existing = same.find(
    ({ id, defines }) => id === name && (defines || entityKind === 'spot' || entityKind === 'item'),
  );
  if (existing) {
    const where = scope === undefined ? '' : ` in ${scope}`;
    return `${name} is taken: there is a ${entityKind} of that id${where} in ${fileName(existing.uri)}.`;
  }
  if (entityKind !== 'technique') return undefined;
  for (const { techniques } of relatedProjects(needs.workspace, file))
    for (const { id, was, uri } of techniques.values())
      if (id !== symbol.id && was.some((former) => former.id === name))
        return `${name} is taken: ${id} in ${fileName(uri)} was called so, and logs may still speak of it.`;
  return undefined;
}

/** An error message where a file could not be read to its end and its unread part may contain the name. */
function unreadableFileMessage(
  needs: FileServices,
  file: ProjectFile,
  { id, entityKind }: RouteSymbol,
  places: readonly Occurrence[],
): string | undefined {
  const shared = new Set(
    entityKind === 'technique'
      ? relatedProjects(needs.workspace, file).flatMap(filesIn)
      : places.map(({ uri }) => uri),
  );
  for (const uri of shared) {
    const reading = needs.workspace.file(uri)?.reading;
    if (!reading || isFullyRead(reading)) continue;
    const readStarts = [...symbolsIn(needs.workspace.file(uri)!)]
      .filter((one) => one.id === id)
      .map(({ span }) => span.start);
    const starts = [...reading.text.matchAll(new RegExp(`(?<![\\w-])${id}(?![\\w-])`, 'g'))].map(
      ({ index }) => index,
    );
    const missed = starts.find((start) => !readStarts.includes(start));
    if (missed === undefined) continue;
    const { line } = needs.positions.range(uri, { start: missed, end: missed }).start;
    return `${fileName(uri)} cannot be read to its end, and line ${line + 1} may speak of ${id}. Mend the file first.`;
  }
  return undefined;
}

function filesIn(project: ReturnType<typeof relatedProjects>[number]): string[] {
  const { route, bases, practice, runs, weeks, pools } = project;
  return [route, ...bases, ...practice, ...runs, ...weeks, ...pools].map(({ uri }) => uri);
}

/** An error message where a file would have more problems after its edits. */
function unsafeEditMessage(needs: FileServices, edits: readonly PlacedEdit[]): string | undefined {
  for (const uri of new Set(edits.map((edit) => edit.uri))) {
    const reading = needs.workspace.file(uri)?.reading;
    if (!reading) continue;
    const text = applyEdits(
      reading.text,
      edits.filter((edit) => edit.uri === uri),
    );
    if (readSource(reading.kind, text, reading).problems.length > reading.problems.length)
      return `${fileName(uri)} is written in a way that no safe edit fits. Rename it there by hand.`;
  }
  return undefined;
}
