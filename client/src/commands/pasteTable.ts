import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  pasteTableRequest,
  type PastedTable,
  type PasteTableResult,
} from '../../../server/src/protocol/messages/pasteTable.ts';
import { clipboardTable, leaveOutAnswers } from '../editor/clipboardTable.ts';
import { requestEdit } from '../editor/fileEdits.ts';
import { ask, showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure } from '../editor/notices.ts';
import { completeStep } from '../routes/firstSteps.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { createRoute } from './newRoute.ts';

/**
 * Puts the table on the clipboard into the route in front, or into a new one, after showing what was understood.
 *
 * @param calledOn what a menu passes to the command: the file that was clicked
 */
export async function pasteTable(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn?: unknown,
): Promise<void> {
  try {
    const text = await clipboardTable();
    if (text === undefined) return;
    const uri = await routes.chooseExisting(calledOn);
    if (uri === undefined) return;
    const agreed = await agree(client, uri, text);
    if (!agreed) return;
    const { table } = agreed;
    if (uri === null) {
      await createRoute(client, table);
      return;
    }
    // What was shown is applied as it is, unless the route has changed since.
    const answers = [agreed.result];
    const said = await requestEdit(
      async () => answers.pop() ?? client.sendRequest(pasteTableRequest, { uri, table }),
      { keepFocus: false },
    );
    completeStep('write');
    void showInformation(said);
  } catch (error) {
    client.error('The table was not pasted.', error, false);
    showFailure(l10n.t('The table was not pasted: {0}', reasonOf(error)));
  }
}

/** A table that the person wants pasted, and the server's answer to it. */
interface Agreed {
  readonly table: PastedTable;
  readonly result: PasteTableResult;
}

/** Shows what was understood of the table. @returns undefined where nothing is to be pasted */
async function agree(
  client: BaseLanguageClient,
  uri: string | null,
  text: string,
): Promise<Agreed | undefined> {
  let table: PastedTable = { text, ignored: [] };
  for (;;) {
    const result = await client.sendRequest(pasteTableRequest, { uri, table });
    const { message, details, fits, leaveOut } = result;
    if (fits) {
      const paste = l10n.t('Paste into {0}', fits.into);
      return (await ask(message, details, paste)) === paste ? { table, result } : undefined;
    }
    const answers = new Map(leaveOutAnswers(leaveOut, table.ignored));
    const answer = await ask(message, details, ...answers.keys());
    const ignored = answer === undefined ? undefined : answers.get(answer);
    if (!ignored) return undefined;
    table = { text, ignored };
  }
}
