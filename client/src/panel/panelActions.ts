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
  weekCalendarRequest,
  type ChangeWeekParams,
  type SwapParams,
} from '../../../server/src/protocol/messages/week.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { bytesOf, requestEdit } from '../editor/fileEdits.ts';
import { showPlace } from '../editor/showFile.ts';

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
  if (place) await showPlace(place);
}

/** Copies a view to the clipboard as Markdown. Returns the sentence to show. */
export async function copyMarkdown(client: BaseLanguageClient, params: PanelParams): Promise<string> {
  await env.clipboard.writeText(await client.sendRequest(panelMarkdownRequest, params));
  return l10n.t('Copied as Markdown.');
}

/**
 * Saves the coming week as a calendar where the person chooses. Returns the sentence to show, or undefined where they
 * cancelled.
 */
export async function saveCalendar(client: BaseLanguageClient, uri: string): Promise<string | undefined> {
  const calendar = await client.sendRequest(weekCalendarRequest, { uri });
  if (isRefusal(calendar)) return calendar.message;
  const { text, name, startsAt } = calendar;
  const target = await window.showSaveDialog({
    title: l10n.t('Save the Week as a Calendar'),
    defaultUri: Uri.joinPath(Uri.parse(uri), '..', name.replace(/[\\/:*?"<>|]+/g, '-')),
    filters: { [l10n.t('Calendar')]: ['ics'] },
  });
  if (!target) return undefined;
  await workspace.fs.writeFile(target, bytesOf(text));
  return l10n.t('Saved in {0}: sessions start at {1}.', workspace.asRelativePath(target), startsAt);
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
