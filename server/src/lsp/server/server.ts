import { CodeLensRefreshRequest, type Connection, type InitializeParams } from 'vscode-languageserver';
import { momentNow, systemClock } from '../../journal/clock.ts';
import type { LogJournals } from '../../journal/logJournal.ts';
import {
  filesReadNotification,
  findingsChangedNotification,
  statusRequest,
  workingOnNotification,
} from '../../protocol/messages/findings.ts';
import { answerRequest, takeNotification } from '../../protocol/messages/message.ts';
import { locateTechniqueRequest, panelMarkdownRequest, panelRequest } from '../../protocol/messages/panel.ts';
import { pasteTableRequest, routeSegmentsRequest } from '../../protocol/messages/pasteTable.ts';
import { rankRequest } from '../../protocol/messages/rank.ts';
import {
  routeHintsNotification,
  rulesNotification,
  todayNotification,
} from '../../protocol/messages/settings.ts';
import { chosenRunnersNotification, whoseLogsRequest } from '../../protocol/messages/runners.ts';
import { starterRequest } from '../../protocol/messages/starter.ts';
import { tonightRequest } from '../../protocol/messages/tonight.ts';
import {
  addToWeekRequest,
  changeWeekRequest,
  setStateRequest,
  swapRequest,
  weekCalendarRequest,
} from '../../protocol/messages/week.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import { unwatched } from '../../workspace/workWatch.ts';
import { codeActionProvider } from '../actions/codeActions.ts';
import { watchDay } from '../checking/watchDay.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import { WorkTeller } from '../documents/workTeller.ts';
import {
  incomingCallsProvider,
  outgoingCallsProvider,
  prepareCallHierarchyProvider,
} from '../editing/callHierarchy.ts';
import { codeLensProvider } from '../editing/codeLens.ts';
import { completionProvider } from '../editing/completion.ts';
import { definitionProvider } from '../editing/definition.ts';
import { documentLinkProvider } from '../editing/documentLinks.ts';
import { documentSymbolProvider } from '../editing/documentSymbols.ts';
import { foldingRangeProvider } from '../editing/folding.ts';
import {
  formattingProvider,
  onTypeFormattingProvider,
  rangeFormattingProvider,
} from '../editing/formatting.ts';
import { hoverProvider } from '../editing/hover.ts';
import { inlayHintProvider } from '../editing/inlayHints.ts';
import { documentHighlightProvider, referencesProvider } from '../editing/references.ts';
import { prepareRenameProvider, renameProvider } from '../editing/rename.ts';
import { selectionRangeProvider } from '../editing/selectionRanges.ts';
import { semanticTokensProvider } from '../editing/semanticTokens.ts';
import { workspaceSymbolProvider } from '../editing/workspaceSymbols.ts';
import { addToWeekHandler } from '../requests/addToWeek.ts';
import { changeWeekHandler } from '../requests/changeWeek.ts';
import { clientRevisionReader, withComparedRoute } from '../requests/comparedRoute.ts';
import { locateTechniqueHandler } from '../requests/locateTechnique.ts';
import { panelHandler, panelMarkdownHandler } from '../requests/panel.ts';
import { pasteTableHandler, routeSegmentsHandler } from '../requests/pasteTable.ts';
import { rankHandler } from '../requests/rank.ts';
import { setStateHandler, swapHandler } from '../requests/setState.ts';
import { starterHandler } from '../requests/starter.ts';
import { statusHandler } from '../requests/status.ts';
import { tonightHandler } from '../requests/tonight.ts';
import { weekCalendarHandler } from '../requests/weekCalendar.ts';
import { whoseLogsHandler } from '../requests/whoseLogs.ts';
import { afterFirstEstimates } from './afterFirstEstimates.ts';
import { ErrorBoundary } from './errorBoundary.ts';
import { followFiles } from './followFiles.ts';
import { clientFeaturesOf, initializationOptionsOf } from './greeting.ts';
import { answerPractice } from './practiceAnswers.ts';
import { createServices, type Services } from './services.ts';

/**
 * Serves one client over a connection, from the time its `initialize` request is answered until the connection ends:
 * the table of contents of the language server. Every message that a client can send is named here, with its handler.
 *
 * @param hello the client's `initialize` request
 * @param source reads files that the client has not opened
 * @param journals where attempts are kept until the saved file contains them
 */
export function startServer(
  connection: Connection,
  hello: InitializeParams,
  source: FileSource,
  journals: LogJournals,
): void {
  // The services that all features share.
  const client = clientFeaturesOf(hello);
  const options = initializationOptionsOf(hello);
  const tellWork = (uri: string | null) => void connection.sendNotification(workingOnNotification, { uri });
  const services: Services = createServices({
    source,
    client,
    watch: options?.heldBack ? new WorkTeller(tellWork) : unwatched,
    publish: (params) => void connection.sendDiagnostics(params),
    now: () => momentNow(systemClock),
    events: {
      published: () => void connection.sendNotification(findingsChangedNotification, {}),
      checked: () => void connection.sendNotification(filesReadNotification, {}),
      inlineEstimatesChanged: () =>
        void boundary.background('New numbers', () => refreshInlineEstimates(connection, client)),
      runGuarded: (name, run) => void boundary.background(name, run),
    },
  });
  const { sync, checks } = services;
  const boundary = new ErrorBoundary(connection.console, () => sync.ready());
  services.workspace.holdBack(options?.heldBack ?? []);
  checks.setToday(options?.today);
  checks.setRules(options?.rules);
  checks.setChosenRunners(options?.runners);
  services.routeHints.setShown(options?.showsRouteHints);

  // Files, practice and settings.
  const logs = answerPractice(connection, services, boundary, journals);
  followFiles(connection, hello, sync, logs, boundary);
  takeNotification(
    connection,
    todayNotification,
    boundary.notification('The date', ({ today }) => checks.setToday(today)),
  );
  takeNotification(
    connection,
    rulesNotification,
    boundary.notification('The rules', ({ rules }) => checks.setRules(rules)),
  );
  takeNotification(
    connection,
    routeHintsNotification,
    boundary.notification('The hints', ({ shown }) => {
      services.routeHints.setShown(shown);
      void boundary.background('The hints', () => refreshInlineEstimates(connection, client));
    }),
  );
  takeNotification(
    connection,
    chosenRunnersNotification,
    boundary.notification('The runners', ({ runners }) => checks.setChosenRunners(runners)),
  );

  // What an editor requests about a position or a file: all that capabilities.ts names, and nothing else.
  const { semanticTokens, callHierarchy, inlayHint } = connection.languages;
  connection.onHover(boundary.requestInSteps('Hover', hoverProvider(services)));
  connection.onCompletion(boundary.request('Completion', completionProvider(services)));
  connection.onDefinition(boundary.request('Go to definition', definitionProvider(services)));
  connection.onReferences(boundary.request('References', referencesProvider(services)));
  connection.onDocumentHighlight(boundary.request('Highlights', documentHighlightProvider(services)));
  connection.onPrepareRename(boundary.request('Rename', prepareRenameProvider(services)));
  connection.onRenameRequest(boundary.request('Rename', renameProvider(services)));
  const codeLens = afterFirstEstimates(services, codeLensProvider(services));
  const hints = afterFirstEstimates(services, inlayHintProvider(services));
  connection.onCodeLens(boundary.request('Code lens', codeLens));
  inlayHint.on(boundary.request('Hints', hints));
  connection.onDocumentSymbol(boundary.request('Symbols', documentSymbolProvider(services)));
  connection.onWorkspaceSymbol(boundary.request('Symbols', workspaceSymbolProvider(services)));
  connection.onFoldingRanges(boundary.request('Folding', foldingRangeProvider(services)));
  connection.onSelectionRanges(boundary.request('Selection', selectionRangeProvider(services)));
  connection.onDocumentLinks(boundary.request('Links', documentLinkProvider(services)));
  semanticTokens.on(boundary.request('Colours', semanticTokensProvider(services)));
  semanticTokens.onRange(boundary.request('Colours', semanticTokensProvider(services)));
  callHierarchy.onPrepare(boundary.request('Needs', prepareCallHierarchyProvider(services)));
  callHierarchy.onIncomingCalls(boundary.request('What it opens', incomingCallsProvider(services)));
  callHierarchy.onOutgoingCalls(boundary.request('What it needs', outgoingCallsProvider(services)));
  connection.onDocumentFormatting(boundary.request('Formatting', formattingProvider(services)));
  connection.onDocumentRangeFormatting(boundary.request('Formatting', rangeFormattingProvider(services)));
  connection.onDocumentOnTypeFormatting(boundary.request('Formatting', onTypeFormattingProvider(services)));
  connection.onCodeAction(boundary.request('Quick fixes', codeActionProvider(services)));

  // What our own client requests in addition to the protocol. What takes long is worked out in steps.
  const revisions = { ...services, readRevision: clientRevisionReader(connection) };
  answerRequest(connection, rankRequest, boundary.requestInSteps('Ranking', rankHandler(services)));
  answerRequest(connection, tonightRequest, boundary.requestInSteps('Tonight', tonightHandler(services)));
  answerRequest(
    connection,
    panelRequest,
    boundary.request('The panel', withComparedRoute(revisions, panelHandler(services))),
  );
  answerRequest(
    connection,
    panelMarkdownRequest,
    boundary.request('The panel as Markdown', withComparedRoute(revisions, panelMarkdownHandler(services))),
  );
  answerRequest(
    connection,
    locateTechniqueRequest,
    boundary.request('Finding a technique', locateTechniqueHandler(services)),
  );
  answerRequest(
    connection,
    changeWeekRequest,
    boundary.request('Changing the week', changeWeekHandler(services)),
  );
  answerRequest(connection, setStateRequest, boundary.request('Setting a state', setStateHandler(services)));
  answerRequest(
    connection,
    addToWeekRequest,
    boundary.request('Adding to the week', addToWeekHandler(services)),
  );
  answerRequest(
    connection,
    weekCalendarRequest,
    boundary.requestInSteps('The calendar', weekCalendarHandler(services)),
  );
  answerRequest(connection, swapRequest, boundary.request('A swap', swapHandler(services)));
  answerRequest(connection, whoseLogsRequest, boundary.request('Whose logs', whoseLogsHandler(services)));
  answerRequest(connection, statusRequest, boundary.request('Status', statusHandler(services)));
  answerRequest(
    connection,
    pasteTableRequest,
    boundary.request('Pasting a table', pasteTableHandler(services)),
  );
  answerRequest(
    connection,
    routeSegmentsRequest,
    boundary.request('Naming the segments', routeSegmentsHandler(services)),
  );
  answerRequest(connection, starterRequest, boundary.request('Creating a route', starterHandler()));

  const endDayWatch = watchDay(
    services,
    () => void boundary.background('A new day', () => checks.schedule()),
  );
  connection.onShutdown(() => {
    endDayWatch();
    logs.dispose();
    checks.dispose();
  });
}

/** Asks the client to request the numbers between the lines and the standings again, where the client supports that. */
async function refreshInlineEstimates(connection: Connection, client: ClientFeatures): Promise<void> {
  await Promise.all([
    client.refreshLenses && connection.sendRequest(CodeLensRefreshRequest.type),
    client.refreshHints && connection.languages.inlayHint.refresh(),
    client.refreshTokens && connection.languages.semanticTokens.refresh(),
  ]);
}
