import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { logBlockRequest } from '../../../server/src/protocol/messages/logEntry.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { askText, showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure, showRefusal } from '../editor/notices.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { fetchOffer, pickTechnique } from './offer.ts';
import { logWholeEntry } from './wholeEntry.ts';

/** The answers so far, as written. */
interface BlockFields {
  readonly minutes?: string;
  readonly result?: string;
  readonly start?: string;
}

/** Log Block: logs a block that was practised without the practice view. */
export async function logBlock(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn: unknown,
): Promise<void> {
  const uri = await routes.chooseWithRunner(l10n.t('Logging a block needs a route.'), calledOn);
  if (uri === undefined) return;
  const offer = await fetchOffer(client, uri, false);
  const technique = offer && (await pickTechnique(offer, l10n.t('Log a block'), false));
  if (!offer || !technique) return;
  const send = ({ minutes = '', result = '', start = '' }: BlockFields, dry: boolean) =>
    logWholeEntry(offer.practice, uri, (into) =>
      client.sendRequest(logBlockRequest, {
        uri: into,
        technique: technique.technique,
        minutes,
        result,
        start,
        dry,
      }),
    );
  const wrong = async (fields: BlockFields): Promise<string | undefined> => {
    const answer = await send(fields, true);
    return isRefusal(answer) ? answer.message : undefined;
  };
  const minutes = await askText({
    ignoreFocusOut: true,
    title: l10n.t('Log a block of {0} (1 of 3)', technique.name),
    prompt: l10n.t('Minutes of practice'),
    value: String(technique.minutes),
    validateInput: (text) => wrong({ minutes: text }),
  });
  if (minutes === undefined) return;
  const result = await askText({
    ignoreFocusOut: true,
    title: l10n.t('Log a block of {0} (2 of 3)', technique.name),
    prompt: l10n.t(
      'Landed and tries such as 12/20, or one letter an attempt such as lmmlll; empty if not counted',
    ),
    validateInput: (text) => wrong({ minutes, result: text }),
  });
  if (result === undefined) return;
  const start = await askText({
    ignoreFocusOut: true,
    title: l10n.t('Log a block of {0} (3 of 3)', technique.name),
    prompt: l10n.t('When it began, such as 2026-10-04 or 2026-10-04 19:30; empty if it ends now'),
    validateInput: (text) => wrong({ minutes, result, start: text }),
  });
  if (start === undefined) return;
  try {
    const answer = await send({ minutes, result, start }, false);
    void (isRefusal(answer) ? showRefusal(answer) : showInformation(answer.said));
  } catch (error) {
    client.error('Nothing was logged.', error, false);
    showFailure(l10n.t('Nothing was logged: {0}', reasonOf(error)));
  }
}
