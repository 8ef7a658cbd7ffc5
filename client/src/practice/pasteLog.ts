import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  logTableRequest,
  previewLogTableRequest,
  type LogTableParams,
} from '../../../server/src/protocol/messages/logTable.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { clipboardTable, leaveOutAnswers } from '../editor/clipboardTable.ts';
import { ask, showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure, showRefusal } from '../editor/notices.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { logWholeEntry } from './wholeEntry.ts';

/**
 * Puts the table of past practice or runs on the clipboard into the log, after showing what was understood.
 *
 * @param calledOn what a menu passes to the command: the file that was clicked
 */
export async function pasteLog(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn?: unknown,
): Promise<void> {
  try {
    const text = await clipboardTable();
    if (text === undefined) return;
    const uri = await routes.chooseWithRunner(l10n.t('Past practice and runs belong to a route.'), calledOn);
    const agreed = uri === undefined ? undefined : await agree(client, uri, text);
    if (!agreed) return;
    const log = { uri: agreed.uri, begin: null };
    const logged = await logWholeEntry(log, agreed.uri, (into) =>
      client.sendRequest(logTableRequest, { ...agreed, uri: into }),
    );
    if (isRefusal(logged)) await showRefusal(logged);
    else void showInformation(logged.said);
  } catch (error) {
    client.error('The table was not logged.', error, false);
    showFailure(l10n.t('The table was not logged: {0}', reasonOf(error)));
  }
}

/** Shows what was understood of the table. @returns undefined where nothing is to be logged */
async function agree(
  client: BaseLanguageClient,
  uri: string,
  text: string,
): Promise<LogTableParams | undefined> {
  let params: LogTableParams = { uri, text, ignored: [] };
  for (;;) {
    const { message, details, into, leaveOut, orders } = await client.sendRequest(
      previewLogTableRequest,
      params,
    );
    if (into !== undefined) {
      const yes = l10n.t('Log into {0}', into);
      return (await ask(message, details, yes)) === yes ? params : undefined;
    }
    const offers = new Map<string, LogTableParams>([
      ...leaveOutAnswers(leaveOut, params.ignored).map(([answer, ignored]): [string, LogTableParams] => [
        answer,
        { ...params, ignored },
      ]),
      ...orders.map((dates): [string, LogTableParams] => [
        dates === 'day-first'
          ? l10n.t('The Day Comes First, as in 31/12')
          : l10n.t('The Month Comes First, as in 12/31'),
        { ...params, dates },
      ]),
    ]);
    const chosen = await ask(message, details, ...offers.keys());
    const next = chosen === undefined ? undefined : offers.get(chosen);
    if (!next) return undefined;
    params = next;
  }
}
