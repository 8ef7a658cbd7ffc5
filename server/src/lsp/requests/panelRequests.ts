import type { CancellationToken, Connection } from 'vscode-languageserver';
import {
  changeWeekRequest,
  panelMarkdownRequest,
  panelRequest,
  whereIsRequest,
  type ChangeWeekParams,
  type PanelParams,
  type WhereIsParams,
} from '../../protocol/panel.ts';
import type { Boundary } from '../server/errorBoundary.ts';
import { changeWeek } from './changeWeek.ts';
import { breathe } from '../documents/eventLoop.ts';
import { panelFor, panelMarkdownFor, panelWithRest, whereIs } from './panel.ts';
import { PanelReports } from '../estimates/panelReports.ts';
import type { Session } from '../server/session.ts';

/** Answers what the panel beside the route asks for. */
export function answerPanel(connection: Connection, session: Session, boundary: Boundary): void {
  const reports = new PanelReports(session.estimates);
  connection.onRequest(
    panelRequest,
    boundary.request('The panel', async (params: PanelParams, token) => {
      // What takes a while lets a cancellation that is on its way be heard first.
      if (params.wait) await breathe();
      if (params.rest !== true) return panelFor(session, reports, params);
      return panelWithRest(session, reports, params, unhurried(token));
    }),
  );
  connection.onRequest(
    panelMarkdownRequest,
    boundary.request('The panel as Markdown', (params: PanelParams, token) =>
      panelMarkdownFor(session, reports, params, unhurried(token)),
    ),
  );
  connection.onRequest(
    changeWeekRequest,
    boundary.request('Changing the week', (params: ChangeWeekParams) => changeWeek(session, params)),
  );
  connection.onRequest(
    whereIsRequest,
    boundary.request('Finding a technique', (params: WhereIsParams) => whereIs(session, params)),
  );
}

/** Milliseconds of work after which whatever waits goes first. */
const stretch = 12;

/** Lets the next message go first every few milliseconds, and says whether to go on after it. */
function unhurried(token: CancellationToken): () => Promise<boolean> {
  let since = Date.now();
  return async () => {
    if (Date.now() - since < stretch) return true;
    await breathe();
    since = Date.now();
    return !token.isCancellationRequested;
  };
}
