import { env, l10n, Range, Uri, ViewColumn, window, workspace, WorkspaceEdit } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  changeWeekRequest,
  panelMarkdownRequest,
  locateTechniqueRequest,
  type ChangeWeekParams,
  type ChangeWeekResult,
  type PanelParams,
  type LocateTechniqueParams,
  type LocateTechniqueResult,
} from '../../../server/src/protocol/panel.ts';

type Edit = NonNullable<ChangeWeekResult['edit']>;

/** Changes what the week file says of a technique, by an edit that can be undone; returns what to say. */
export async function changeWeek(client: BaseLanguageClient, params: ChangeWeekParams): Promise<string> {
  // The first answer may be for a file as it is on the disk. Opened, it has a version to go by.
  for (let attempt = 0; attempt < 3; attempt++) {
    const { edit, message } = await client.sendRequest<ChangeWeekResult>(changeWeekRequest, params);
    if (!edit || (await apply(edit))) return message;
  }
  return l10n.t('The file keeps changing, and nothing was written. Try again in a moment.');
}

/** Applies the edit as one step to undo and shows the file, with the focus left where it is. */
async function apply({ uri, version, changes, create }: Edit): Promise<boolean> {
  const target = Uri.parse(uri);
  const edit = new WorkspaceEdit();
  const rangeOf = ({ range: { start, end } }: Edit['changes'][number]): Range =>
    new Range(start.line, start.character, end.line, end.character);
  if (create) {
    const text = changes.map(({ newText }) => newText).join('');
    edit.createFile(target, { contents: new TextEncoder().encode(text), ignoreIfExists: false });
  } else {
    const document = await workspace.openTextDocument(target);
    if (document.version !== version) return false;
    for (const change of changes) edit.replace(target, rangeOf(change), change.newText);
  }
  if (!(await workspace.applyEdit(edit))) return false;
  const editor = await window.showTextDocument(target, {
    preview: false,
    preserveFocus: true,
    viewColumn: columnOf(target),
  });
  const [first] = changes;
  if (first) editor.revealRange(rangeOf(first));
  return true;
}

/** Where a file is shown already, else the first column: never over the panel. */
function columnOf(target: Uri): ViewColumn {
  const shown = window.tabGroups.all.find(({ tabs }) =>
    tabs.some(({ input }) => {
      const uri = typeof input === 'object' && input !== null && 'uri' in input ? input.uri : undefined;
      return uri instanceof Uri && uri.toString() === target.toString();
    }),
  );
  return shown?.viewColumn ?? ViewColumn.One;
}

/** Shows where a technique is defined. */
export async function openTechnique(
  client: BaseLanguageClient,
  params: LocateTechniqueParams,
): Promise<void> {
  const place = await client.sendRequest<LocateTechniqueResult>(locateTechniqueRequest, params);
  if (!place) return;
  const target = Uri.parse(place.uri);
  const { start, end } = place.range;
  await window.showTextDocument(target, {
    viewColumn: columnOf(target),
    selection: new Range(start.line, start.character, end.line, end.character),
  });
}

/** Puts a view on the clipboard as Markdown; returns what to say. */
export async function copyMarkdown(client: BaseLanguageClient, params: PanelParams): Promise<string> {
  await env.clipboard.writeText(await client.sendRequest<string>(panelMarkdownRequest, params));
  return l10n.t('Copied as Markdown.');
}

/** Saves a drawing where the person says; returns what to say, or nothing where they changed their mind. */
export async function saveDrawing(near: Uri, name: string, drawing: string): Promise<string | undefined> {
  // The name comes from the page: only what is safe in a file's name is kept.
  const safe = name.replace(/[^a-z0-9-]+/gi, '-').slice(0, 80) || 'chart';
  const target = await window.showSaveDialog({
    title: l10n.t('Save the Chart as SVG'),
    defaultUri: Uri.joinPath(near, '..', `${safe}.svg`),
    filters: { SVG: ['svg'] },
  });
  if (!target) return undefined;
  await workspace.fs.writeFile(target, new TextEncoder().encode(drawing));
  return l10n.t('Saved in {0}.', workspace.asRelativePath(target));
}
