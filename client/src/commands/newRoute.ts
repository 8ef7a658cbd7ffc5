import { l10n, Uri, window, workspace, WorkspaceEdit, type ExtensionContext } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { PastedTable } from '../../../server/src/protocol/messages/pasteTable.ts';
import { starterRequest, type StarterResult } from '../../../server/src/protocol/messages/starter.ts';
import { bytesOf, fileExists } from '../editor/fileEdits.ts';
import { askText, showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure } from '../editor/notices.ts';
import { showFile } from '../editor/showFile.ts';
import { completeStep } from '../routes/firstSteps.ts';

type NewFiles = StarterResult['files'];

const sampleFolder = 'lanternfall';

/**
 * Asks for a game's name and writes a first route for it, with its logs and a week file, into a folder.
 *
 * @param table whose entries the route begins with; left out: a small route to be written over
 */
export async function createRoute(client: BaseLanguageClient, table?: PastedTable): Promise<void> {
  const title = l10n.t('Create a Route');
  const game = await askText({
    title,
    prompt: l10n.t('The name of the game. The route’s files are named after it.'),
    ignoreFocusOut: true,
    validateInput: (text) =>
      /[\p{Letter}\p{Number}]/u.test(text) ? undefined : l10n.t('A name of at least one letter or digit.'),
  });
  if (game === undefined) return;
  const folder = await chooseFolder(title);
  if (!folder) return;
  try {
    const { files } = await client.sendRequest(starterRequest, { game: game.trim(), table });
    await writeAndShow(folder, files);
  } catch (error) {
    client.error('The route was not created.', error, false);
    showFailure(l10n.t('The route was not created: {0}', reasonOf(error)));
  }
}

/** Copies the sample, a complete set for an invented game, into a folder of its own and opens its route. */
export async function openSample({ extensionUri }: ExtensionContext): Promise<void> {
  const folder = await chooseFolder(l10n.t('Open the Sample'));
  if (!folder) return;
  const samples = Uri.joinPath(extensionUri, 'samples');
  const names = ['route', 'practice', 'runs', 'week'].map((kind) => `${sampleFolder}.${kind}.yaml`);
  try {
    const files = await Promise.all(
      names.map(async (name) => ({
        name,
        text: new TextDecoder().decode(await workspace.fs.readFile(Uri.joinPath(samples, name))),
      })),
    );
    await writeAndShow(Uri.joinPath(folder, sampleFolder), files);
  } catch (error) {
    showFailure(l10n.t('The sample was not copied: {0}', reasonOf(error)));
  }
}

/** The open folder. Where several are open, or none is, the person picks one. */
async function chooseFolder(title: string): Promise<Uri | undefined> {
  const folders = workspace.workspaceFolders ?? [];
  if (folders.length === 1) return folders[0]!.uri;
  if (folders.length > 1) {
    const placeHolder = l10n.t('The folder for the files');
    return (await window.showWorkspaceFolderPick({ placeHolder }))?.uri;
  }
  const openLabel = l10n.t('Put the Files Here');
  const options = { title, openLabel, canSelectFiles: false, canSelectFolders: true };
  return (await window.showOpenDialog(options))?.[0];
}

/** Writes the files and shows the first. Where one of them exists already, none is written and the person is told. */
async function writeAndShow(folder: Uri, files: NewFiles): Promise<void> {
  const edit = new WorkspaceEdit();
  const uris = files.map(({ name }) => Uri.joinPath(folder, name));
  const [first] = uris;
  for (const [index, { text }] of files.entries())
    edit.createFile(uris[index]!, { contents: bytesOf(text), ignoreIfExists: false });
  const existing: string[] = [];
  for (const uri of uris) if (await fileExists(uri)) existing.push(uri.path.split('/').at(-1) ?? '');
  if (existing.length > 0) {
    void showInformation(
      l10n.t('Nothing was written: {0} is there already and stays as it is.', existing.join(', ')),
    );
  } else if (!(await workspace.applyEdit(edit))) {
    showFailure(l10n.t('The files could not be written to {0}.', folder.path));
    return;
  }
  completeStep('write');
  if (first && (await fileExists(first))) await showFile(first, { preview: false });
}
