import { l10n, QuickPickItemKind, type QuickPickItem } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  logBlockRequest,
  logRunRequest,
  type LogBlockParams,
  type LogEntryResult,
  type LogRunParams,
} from '../../../server/src/protocol/messages/logEntry.ts';
import type { OfferedTechnique, PracticeOffer } from '../../../server/src/protocol/messages/practiceOffer.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { fetchOffer, ensureLogFile, pickTechnique } from './offer.ts';
import { sendRequest, type Request } from '../../../server/src/protocol/messages/message.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { askText, pick, pickSeveral, showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure, showRefusal } from '../editor/notices.ts';
import { showInPanel } from '../editor/showInPanel.ts';

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

/**
 * Log Run: asks for the run's times, the techniques tried and where it ended; then shows what the run changed in the
 * review.
 */
export async function logRun(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn: unknown,
): Promise<void> {
  const uri = await routes.choose(l10n.t('Logging a run needs a route.'), calledOn);
  const offer = uri === undefined ? undefined : await fetchOffer(client, uri, false);
  if (!offer) return;
  await ensureLogFile(offer.runs);
  const how = await askRunOutcome(offer);
  if (how === undefined) return;
  const times = how.ended === null ? await askTimes(client, offer, how.byTotal) : { total: '', times: '' };
  if (times === undefined) return;
  const landed = await pickTechniques(offer, [], 'landed');
  const missed = landed && (await pickTechniques(offer, landed, 'missed'));
  if (!landed || !missed) return;
  const params: LogRunParams = {
    uri: offer.runs.uri,
    ...times,
    landed,
    missed,
    ended: how.ended,
    dry: false,
  };
  const id = await logEntry(client, logRunRequest, params);
  if (id === undefined) return;
  await showInPanel({ uri: offer.runs.uri, view: 'after', technique: null, run: id });
}

interface RunOutcome {
  readonly byTotal: boolean;
  readonly ended: LogRunParams['ended'];
}

async function askRunOutcome(offer: PracticeOffer): Promise<RunOutcome | undefined> {
  const whole = { label: l10n.t('Finished, with its total') };
  const bySegment = { label: l10n.t('Finished, with times by segment') };
  const early = { label: l10n.t('Ended early') };
  const chosen = await pick([whole, bySegment, early], { title: l10n.t('Log a run: {0}', offer.route) });
  if (chosen === undefined) return undefined;
  if (chosen !== early) return { byTotal: chosen === whole, ended: null };
  const at = await pick(
    offer.segments.map(({ id, name }) => ({ label: name, description: id, id })),
    { title: l10n.t('Where did the run end?') },
  );
  if (!at) return undefined;
  const reasons = [
    { label: l10n.t('A reset'), why: 'reset' },
    { label: l10n.t('A missed technique'), why: 'miss' },
    { label: l10n.t('A death'), why: 'death' },
  ] as const;
  const reason = await pick(reasons, { title: l10n.t('What ended it in {0}?', at.label) });
  if (!reason) return undefined;
  if (reason.why !== 'miss') return { byTotal: false, ended: { at: at.id, why: reason.why, by: null } };
  const by = await pick(offer.techniques.map(itemOf), {
    title: l10n.t('Which technique was missed?'),
    matchOnDescription: true,
  });
  return by && { byTotal: false, ended: { at: at.id, why: 'miss', by: by.technique } };
}

async function askTimes(
  client: BaseLanguageClient,
  offer: PracticeOffer,
  byTotal: boolean,
): Promise<Pick<LogRunParams, 'total' | 'times'> | undefined> {
  const empty = { uri: offer.runs.uri, total: '', times: '', landed: [], missed: [], ended: null, dry: true };
  const field = byTotal ? 'total' : 'times';
  const names = offer.segments.map(({ name }) => name).join(', ');
  const written = await askText({
    ignoreFocusOut: true,
    title: l10n.t('Log a run: {0}', offer.route),
    prompt: byTotal
      ? l10n.t('The final time, such as 41:30.2')
      : l10n.t(
          'Times in the order of the route, with spaces between, a dash where you have none: {0}',
          names,
        ),
    validateInput: (text) => validateEntry(client, logRunRequest, { ...empty, [field]: text }),
  });
  return written === undefined ? undefined : { total: '', times: '', [field]: written };
}

function itemOf({ technique, name, standingText }: OfferedTechnique) {
  return { label: name, description: standingText, technique };
}

/**
 * Lets the person pick the techniques that landed, or were missed, in the run; those that are tried in runs come first
 * in the list.
 */
async function pickTechniques(
  { techniques }: PracticeOffer,
  without: readonly string[],
  what: 'landed' | 'missed',
): Promise<readonly string[] | undefined> {
  const left = techniques.filter(({ technique }) => !without.includes(technique));
  const others: (QuickPickItem & { technique: string })[] = [
    { label: l10n.t('Others'), kind: QuickPickItemKind.Separator, technique: '' },
    ...left.filter(({ tried }) => !tried).map(itemOf),
  ];
  const chosen = await pickSeveral(
    [...left.filter(({ tried }) => tried).map(itemOf), ...(others.length > 1 ? others : [])],
    {
      title: l10n.t('What {0} in the run?', what),
      placeHolder: l10n.t('Choose none and press Enter if there was none'),
    },
  );
  return chosen?.map(({ technique }) => technique);
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

/** Writes the entry and shows where it was written; returns its id. */
async function logEntry<P>(
  client: BaseLanguageClient,
  request: Request<P, LogEntryResult>,
  params: P,
): Promise<string | undefined> {
  try {
    const result = await sendRequest(client, request, params);
    if (isRefusal(result)) {
      void showRefusal(result);
      return undefined;
    }
    void showInformation(result.said);
    return result.id ?? undefined;
  } catch (error) {
    client.error('Nothing was logged.', error, false);
    showFailure(l10n.t('Nothing was logged: {0}', reasonOf(error)));
    return undefined;
  }
}
