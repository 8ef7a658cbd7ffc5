import type { CancellationToken, Connection } from 'vscode-languageserver';
import { locateTechniqueRequest, panelMarkdownRequest, panelRequest } from '../../protocol/messages/panel.ts';
import { changeWeekRequest } from '../../protocol/messages/week.ts';
import { answerRequest } from '../../protocol/messages/message.ts';
import type { ErrorBoundary } from '../server/errorBoundary.ts';
import { changeWeek } from './changeWeek.ts';
import { yieldToEventLoop } from '../documents/eventLoop.ts';
import { panelData, panelMarkdownOf, panelDataWithGap, locateTechnique } from './panel.ts';
import { PanelReports } from '../estimates/panelReports.ts';
import type { Session } from '../server/session.ts';

/** Answers what the panel beside the route asks for. */
export function registerPanelRequests(
  connection: Connection,
  session: Session,
  boundary: ErrorBoundary,
): void {
  const reports = new PanelReports(session.estimates);
  answerRequest(
    connection,
    panelRequest,
    boundary.request('The panel', async (params, token) => {
      // What takes a while lets a cancellation that is on its way be heard first.
      if (params.wait) await yieldToEventLoop();
      if (params.rest !== true) return panelData(session, reports, params);
      return panelDataWithGap(session, reports, params, yieldBetweenSteps(token));
    }),
  );
  answerRequest(
    connection,
    panelMarkdownRequest,
    boundary.request('The panel as Markdown', (params, token) =>
      panelMarkdownOf(session, reports, params, yieldBetweenSteps(token)),
    ),
  );
  answerRequest(
    connection,
    changeWeekRequest,
    boundary.request('Changing the week', (params) => changeWeek(session, params)),
  );
  answerRequest(
    connection,
    locateTechniqueRequest,
    boundary.request('Finding a technique', (params) => locateTechnique(session, params)),
  );
}

/** Milliseconds of work after which whatever waits goes first. */
const maxWorkMs = 12;

/** Lets the next message go first every few milliseconds, and says whether to go on after it. */
function yieldBetweenSteps(token: CancellationToken): () => Promise<boolean> {
  let since = Date.now();
  return async () => {
    if (Date.now() - since < maxWorkMs) return true;
    await yieldToEventLoop();
    since = Date.now();
    return !token.isCancellationRequested;
  };
}
