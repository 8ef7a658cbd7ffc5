import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  logBlockRequest,
  type LogBlockParams,
  type LogEntryResult,
} from '../../../server/src/protocol/messages/logEntry.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { fetchOffer, ensureLogFile, pickTechnique } from './offer.ts';
import { sendRequest, type Request } from '../../../server/src/protocol/messages/message.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { askText, showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure, showRefusal } from '../editor/notices.ts';

/** Log Block: logs a block that was practised without the practice view. */
export async function logBlock(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn: unknown,
): Promise<void> {
  const uri = await routes.choose(l10n.t('Logging a block needs a route.'), calledOn);
  const offer = uri === undefined ? undefined : await fetchOffer(client, uri, false);
  const technique = offer && (await pickTechnique(offer, l10n.t('Log a block'), false));
  if (!offer || !technique) return;
  await ensureLogFile(offer.practice);
  const first: LogBlockParams = {
    uri: offer.practice.uri,
    technique: technique.technique,
    minutes: String(technique.minutes),
    result: '',
    dry: true,
  };
  const wrong = (params: LogBlockParams): Promise<string | undefined> =>
    validateEntry(client, logBlockRequest, params);
  const minutes = await askText({
    ignoreFocusOut: true,
    title: l10n.t('Log a block of {0} (1 of 2)', technique.name),
    prompt: l10n.t('Minutes of practice, up to now'),
    value: first.minutes,
    validateInput: (text) => wrong({ ...first, minutes: text }),
  });
  if (minutes === undefined) return;
  const result = await askText({
    ignoreFocusOut: true,
    title: l10n.t('Log a block of {0} (2 of 2)', technique.name),
    prompt: l10n.t(
      'Landed and tries such as 12/20, or one letter an attempt such as lmmlll; empty if not counted',
    ),
    validateInput: (text) => wrong({ ...first, minutes, result: text }),
  });
  if (result === undefined) return;
  await logEntry(client, logBlockRequest, { ...first, minutes, result, dry: false });
}

/** The server's objection to the text written so far; undefined where it has none. */
async function validateEntry<P>(
  client: BaseLanguageClient,
  request: Request<P, LogEntryResult>,
  params: P,
): Promise<string | undefined> {
  const result = await sendRequest(client, request, params);
  return isRefusal(result) ? result.message : undefined;
}

/** Writes the entry and shows where it was written. */
async function logEntry<P>(
  client: BaseLanguageClient,
  request: Request<P, LogEntryResult>,
  params: P,
): Promise<void> {
  try {
    const result = await sendRequest(client, request, params);
    void (isRefusal(result) ? showRefusal(result) : showInformation(result.said));
  } catch (error) {
    client.error('Nothing was logged.', error, false);
    showFailure(l10n.t('Nothing was logged: {0}', reasonOf(error)));
  }
}
