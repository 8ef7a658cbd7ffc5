import { env, l10n, Uri, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  locateTechniqueRequest,
  panelMarkdownRequest,
  type LocateTechniqueParams,
  type PanelParams,
} from '../../../server/src/protocol/messages/panel.ts';
import {
  changeWeekRequest,
  swapRequest,
  type ChangeWeekParams,
  type SwapParams,
} from '../../../server/src/protocol/messages/week.ts';
import type { ProtocolLocation } from '../../../server/src/protocol/places.ts';
import { bytesOf, columnOf, rangeOf, requestEdit } from '../editor/fileEdits.ts';

/** Changes what the week file says about a technique, by an edit that can be undone. Returns the sentence to show. */
export function changeWeek(client: BaseLanguageClient, params: ChangeWeekParams): Promise<string> {
  return requestEdit(() => client.sendRequest(changeWeekRequest, params), { keepFocus: true });
}

/** Puts one technique aside and takes another up, by an edit that can be undone. Returns the sentence to show. */
export function makeSwap(client: BaseLanguageClient, params: SwapParams): Promise<string> {
  return requestEdit(() => client.sendRequest(swapRequest, params), { keepFocus: true });
}

/** Shows where a technique is defined. */
export async function openTechnique(
  client: BaseLanguageClient,
  params: LocateTechniqueParams,
): Promise<void> {
  const place = await client.sendRequest(locateTechniqueRequest, params);
  if (place) await openPlace(place);
}

/** Shows a place in a file, beside the panel. */
export async function openPlace({ uri, range }: ProtocolLocation): Promise<void> {
  const target = Uri.parse(uri);
  await window.showTextDocument(target, { viewColumn: columnOf(target), selection: rangeOf(range) });
}

/** Copies a view to the clipboard as Markdown. Returns the sentence to show. */
export async function copyMarkdown(client: BaseLanguageClient, params: PanelParams): Promise<string> {
  await env.clipboard.writeText(await client.sendRequest(panelMarkdownRequest, params));
  return l10n.t('Copied as Markdown.');
}

/** Saves a drawing where the person chooses. Returns the sentence to show, or undefined where they cancelled. */
export async function saveDrawing(near: Uri, name: string, drawing: string): Promise<string | undefined> {
  // The name comes from the page: only characters that are safe in a file's name are kept.
  const safe = name.replace(/[^a-z0-9-]+/gi, '-').slice(0, 80) || 'chart';
  const target = await window.showSaveDialog({
    title: l10n.t('Save the Chart as SVG'),
    defaultUri: Uri.joinPath(near, '..', `${safe}.svg`),
    filters: { SVG: ['svg'] },
  });
  if (!target) return undefined;
  await workspace.fs.writeFile(target, bytesOf(drawing));
  return l10n.t('Saved in {0}.', workspace.asRelativePath(target));
}
