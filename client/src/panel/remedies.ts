import { commands, l10n, Uri } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { addToWeekRequest, type AddToWeekParams } from '../../../server/src/protocol/messages/week.ts';
import type { Remedy } from '../../../server/src/protocol/panel/remedies.ts';
import { requestEdit } from '../editor/fileEdits.ts';
import { askText } from '../editor/messages.ts';
import { showPlace } from '../editor/showFile.ts';

/** The commands that end what is missing by asking the person. */
const commandOf = {
  'log-block': 'logBlock',
  'log-run': 'logRun',
  paste: 'pasteTable',
  compare: 'compareRoutes',
  runner: 'chooseRunner',
} as const;

/** The files that a remedy is for. */
export interface LackingFiles {
  /** A file of the route. */
  readonly uri: string;
  /** The route itself; empty where it is not known. */
  readonly routeUri: string;
}

/**
 * Ends what a view lacks: writes it by an edit that can be undone, or leads to where it is written.
 *
 * @returns the sentence to show; undefined where there is none
 */
export async function endLack(
  client: BaseLanguageClient,
  { uri, routeUri }: LackingFiles,
  remedy: Remedy,
): Promise<string | undefined> {
  const route = routeUri === '' ? uri : routeUri;
  switch (remedy) {
    case 'minutes':
      return addToWeek(client, uri, 'minutes', {
        title: l10n.t('Minutes of practice on each day'),
        prompt: l10n.t('Such as 60. Each day of the week can be changed in the week file afterwards.'),
        value: '60',
      });
    case 'target':
      return addToWeek(client, uri, 'target', {
        title: l10n.t('The time to beat'),
        prompt: l10n.t('Such as 41:30. It goes into the week file.'),
      });
    case 'route': {
      const start = { line: 0, character: 0 };
      await showPlace({ uri: route, range: { start, end: start } });
      return undefined;
    }
    case 'log-block':
    case 'log-run':
    case 'paste':
    case 'compare':
    case 'runner': {
      const about = remedy === 'compare' ? route : uri;
      await commands.executeCommand(`routewright.${commandOf[remedy]}`, Uri.parse(about));
      return undefined;
    }
  }
}

async function addToWeek(
  client: BaseLanguageClient,
  uri: string,
  what: AddToWeekParams['what'],
  words: { readonly title: string; readonly prompt: string; readonly value?: string },
): Promise<string | undefined> {
  const ask = (text: string) => client.sendRequest(addToWeekRequest, { uri, what, text });
  const text = await askText({
    ...words,
    ignoreFocusOut: true,
    validateInput: async (written) => {
      const { edit, message } = await ask(written);
      return edit ? undefined : message;
    },
  });
  return text === undefined ? undefined : requestEdit(() => ask(text), { keepFocus: true });
}
