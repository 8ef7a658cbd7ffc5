import { useName } from '../../files/schema/ids.ts';
import { CompletionItemKind } from 'vscode-languageserver';
import { formatTime, type UncertainSeconds } from '../../text/time.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import { relativePath } from '../../workspace/relativePath.ts';
import type { EntityKind } from './identifiers.ts';
import { techniquesByUse } from './techniquesByUse.ts';
import type { Workspace } from '../../workspace/workspace.ts';

/** A name that can be written in a file. */
export interface NameCandidate {
  readonly id: string;
  /** The name for people, where it differs from the id. */
  readonly name?: string;
  /** Markdown. */
  readonly note?: string;
  readonly kind: CompletionItemKind;
}

/**
 * The known names of one kind in a file's route: techniques by how recently and how often they are used, all others in
 * the order of the route.
 */
export function nameCandidates(
  workspace: Workspace,
  file: ProjectFile,
  entityKind: EntityKind,
  part: 'key' | 'value',
): NameCandidate[] {
  if (entityKind === 'route') return routeFiles(workspace, file);
  const project = workspace.projectOf(file.uri);
  if (!project) return [];
  switch (entityKind) {
    case 'technique':
      return [...techniques(project), ...(part === 'key' && namesUses(file) ? namedUses(project) : [])];
    case 'segment':
      return project.segments.map(({ id, name, time }) => ({
        id,
        name,
        note: `Usual time ${formatTime(time)}`,
        kind: CompletionItemKind.Event,
      }));
    case 'use':
      return [];
    case 'spot':
      return words(project, ({ spot }) => spot);
    case 'item':
      return words(project, ({ take }) => take);
  }
}

function techniques(project: Project): NameCandidate[] {
  const all = techniquesByUse(project).flatMap((id) => project.techniques.get(id) ?? []);
  return all.map(({ id, name, difficulty, saves }) => ({
    id,
    name,
    note: `Difficulty ${difficulty} of 10${saves ? `, saves ${lengthText(saves)}` : ''}`,
    kind: CompletionItemKind.Function,
  }));
}

/** Whether the keys of a file that are techniques may also be uses: week files and pools speak of the technique itself. */
function namesUses({ kind }: ProjectFile): boolean {
  return kind !== 'week' && kind !== 'pool';
}

/** Uses that have an id of their own, written `technique@use`. */
function namedUses(project: Project): NameCandidate[] {
  return project.segments.flatMap((segment) =>
    segment.uses.flatMap(({ technique, id }) =>
      id === undefined
        ? []
        : [
            {
              id: useName(technique, id),
              name: `in ${segment.name}`,
              kind: CompletionItemKind.Function,
            },
          ],
    ),
  );
}

type Use = Project['segments'][number]['uses'][number];

function words(project: Project, pick: (use: Use) => string | undefined): NameCandidate[] {
  const found = project.segments.flatMap(({ uses: all }) => all.flatMap((use) => pick(use) ?? []));
  return [...new Set(found)].map((id) => ({ id, kind: CompletionItemKind.Value }));
}

function lengthText({ mean, sd }: UncertainSeconds): string {
  return sd > 0 ? `about ${mean.toFixed(1)} s` : `${mean} s`;
}

/** Known route files as paths relative to the file. */
function routeFiles(workspace: Workspace, file: ProjectFile): NameCandidate[] {
  return workspace
    .all()
    .filter(({ kind, uri }) => kind === 'route' && uri !== file.uri)
    .map(({ uri }) => ({ id: relativePath(file.uri, uri), kind: CompletionItemKind.File }))
    .sort((a, b) => a.id.length - b.id.length || (a.id < b.id ? -1 : 1));
}
