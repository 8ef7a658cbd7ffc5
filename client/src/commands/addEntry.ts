import { l10n } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { pasteTableRequest, routeSegmentsRequest } from '../../../server/src/protocol/messages/pasteTable.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { requestEdit } from '../editor/fileEdits.ts';
import { askText, pickSeveral, showInformation } from '../editor/messages.ts';
import { reasonOf, showFailure } from '../editor/notices.ts';
import { completeStep } from '../routes/firstSteps.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';

/*
 * A segment or a technique by questions. The answers go to the server as a table of one row, so that what is understood, what
 * is refused and what is written are the same as for a pasted table.
 */

/** A cell of the row, by its heading. */
type Cells = Readonly<Record<string, string>>;

interface Question {
  /** Heading of the column that the answer stands in. */
  readonly heading: string;
  readonly prompt: string;
  /** Stands in the row until the question is answered: the row can then be checked already. */
  readonly until: string;
}

interface Entry {
  readonly title: string;
  /** Said where there is no route yet. */
  readonly need: string;
  readonly questions: readonly Question[];
}

/** Add a Segment: its name and its time, put behind the last segment of the route. */
export function addSegment(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn: unknown,
): Promise<void> {
  const entry: Entry = {
    title: l10n.t('Add a Segment'),
    need: l10n.t('Adding a segment needs a route.'),
    questions: [
      { heading: 'segment', prompt: l10n.t('The name of the segment'), until: '' },
      {
        heading: 'time',
        prompt: l10n.t('Its time without a mistake, such as 1:32.4'),
        until: '1:00',
      },
    ],
  };
  return addEntry(client, routes, calledOn, entry, () => Promise.resolve({}));
}

/** Add a Technique: what it is called, how hard it is, what it saves and costs, and where it is used. */
export function addTechnique(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn: unknown,
): Promise<void> {
  const entry: Entry = {
    title: l10n.t('Add a Technique'),
    need: l10n.t('Adding a technique needs a route.'),
    questions: [
      { heading: 'technique', prompt: l10n.t('The name of the technique'), until: '' },
      {
        heading: 'difficulty',
        prompt: l10n.t('How hard it is, from 1 (easy) to 10'),
        until: '5',
      },
      {
        heading: 'saves',
        prompt: l10n.t('Seconds saved when it lands, or a range such as 3..5'),
        until: '1',
      },
      {
        heading: 'loses',
        prompt: l10n.t('Seconds lost by a miss; empty if none'),
        until: '',
      },
    ],
  };
  return addEntry(client, routes, calledOn, entry, async (uri): Promise<Cells | undefined> => {
    const answer = await client.sendRequest(routeSegmentsRequest, { uri });
    if (isRefusal(answer)) throw new Error(answer.message);
    if (answer.segments.length === 0) return {};
    const chosen = await pickSeveral(
      answer.segments.map(({ id, name }) => ({ label: name, id })),
      {
        title: entry.title,
        placeHolder: l10n.t('The segments in which it is used: none, one or several'),
        ignoreFocusOut: true,
      },
    );
    return chosen && { segments: chosen.map(({ id }) => id).join(', ') };
  });
}

/** @param askMore asks for further cells of the row; undefined where the person cancels */
async function addEntry(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn: unknown,
  { title, need, questions }: Entry,
  askMore: (uri: string) => Promise<Cells | undefined>,
): Promise<void> {
  const uri = await routes.choose(need, calledOn);
  if (uri === undefined) return;
  const send = (cells: Cells) => client.sendRequest(pasteTableRequest, { uri, table: tableOf(cells) });
  let cells: Cells = Object.fromEntries(questions.map(({ heading, until }) => [heading, until]));
  try {
    for (const [at, { heading, prompt }] of questions.entries()) {
      const answer = await askText({
        title: l10n.t('{0} ({1} of {2})', title, at + 1, questions.length),
        prompt,
        ignoreFocusOut: true,
        validateInput: async (text) => {
          const { fits, reason, message } = await send({ ...cells, [heading]: text });
          return fits ? undefined : (reason ?? message);
        },
      });
      if (answer === undefined) return;
      cells = { ...cells, [heading]: answer };
    }
    const more = await askMore(uri);
    if (more === undefined) return;
    const row = { ...cells, ...more };
    const said = await requestEdit(() => send(row), { keepFocus: false });
    completeStep('write');
    void showInformation(said);
  } catch (error) {
    client.error('Nothing was added.', error, false);
    showFailure(l10n.t('Nothing was added: {0}', reasonOf(error)));
  }
}

/** A table of one row, with tabs between its cells. */
function tableOf(cells: Cells): { text: string; ignored: string[] } {
  const cell = (text: string): string => `"${text.replaceAll('"', '""')}"`;
  const line = (texts: readonly string[]): string => texts.map(cell).join('\t');
  return { text: `${line(Object.keys(cells))}\n${line(Object.values(cells))}\n`, ignored: [] };
}
