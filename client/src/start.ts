import { commands, Disposable, l10n, type ExtensionContext } from 'vscode';
import { State, type BaseLanguageClient, type LanguageClientOptions } from 'vscode-languageclient';
import { filesReadNotification } from '../../server/src/protocol/messages/findings.ts';
import { takeNotification } from '../../server/src/protocol/messages/message.ts';
import {
  routeHintsNotification,
  rulesNotification,
  todayNotification,
  type InitializationOptions,
} from '../../server/src/protocol/messages/settings.ts';
import { compareRoutes, compareWithEarlier } from './commands/compareRoutes.ts';
import { createRoute, openSample } from './commands/newRoute.ts';
import { addSegment, addTechnique } from './commands/addEntry.ts';
import { pasteTable } from './commands/pasteTable.ts';
import { rankNextSkill } from './commands/rankNextSkill.ts';
import { documentSelector } from './editor/selector.ts';
import { TonightTree } from './panel/tonightTree.ts';
import { WeekPanel } from './panel/weekPanel.ts';
import { logBlock } from './practice/forms.ts';
import { pasteLog } from './practice/pasteLog.ts';
import { PracticePanel } from './practice/practicePanel.ts';
import { RunPanel } from './practice/runPanel.ts';
import { serveJournals } from './practice/storage.ts';
import { registerBugReportCommand } from './server/bugReport.ts';
import { serveFiles } from './server/files.ts';
import { serveRevisions, type GitHistory } from './server/git.ts';
import { RouteChoice } from './routes/routeChoice.ts';
import { registerChooseRunner, RunnerChoice } from './routes/runnerChoice.ts';
import { inlineTextsAsWished, showsRouteHints, watchInlineTexts } from './server/inlineTexts.ts';
import { ruleSettings, watchRules } from './server/ruleSettings.ts';
import { ServerErrorHandler } from './server/serverErrorHandler.ts';
import { ServerLog } from './server/serverLog.ts';
import { runnersToday, watchToday } from './server/today.ts';
import { StatusItem } from './views/statusItem.ts';

/** How the server is started and ended in this kind of editor: desktop or browser. */
export interface ServerAccess {
  /** Creates a client that starts a new server each time the client is started. */
  createClient(id: string, name: string, options: LanguageClientOptions): BaseLanguageClient;
  /** Ends the server, even one that hangs. */
  end(): Promise<void>;
}

/**
 * Starts the server and every part of the extension that talks to it; all of them end with the extension.
 *
 * @param history reads from git, where the editor can start it
 */
export async function start(
  context: ExtensionContext,
  server: ServerAccess,
  history?: GitHistory,
): Promise<void> {
  const log = new ServerLog();
  const crashes = new ServerErrorHandler(log, () => server.end());
  const options = clientOptions(log, crashes, () => runners.chosen());
  const client = server.createClient('routewright', 'Routewright', options);
  crashes.watch(client);
  const runners = new RunnerChoice(client, context.workspaceState);
  const routes = new RouteChoice(context.workspaceState, runners);
  const practice = new PracticePanel(client, routes, context);
  const [panel, tonight] = [new WeekPanel(client, routes, context), new TonightTree(client, routes)];
  context.subscriptions.push(
    log,
    crashes,
    client,
    registerBugReportCommand({ client, context, crashes, log }),
    serveFiles(client),
    serveJournals(client, context),
    practice,
    serveRevisions(client, history),
    runners,
    routes,
    registerChooseRunner(runners, (file) =>
      routes.choose(l10n.t('Whose logs count is chosen for a route.'), file),
    ),
    registerCommands({ client, routes, context, history }),
    panel,
    tonight,
    followFilesRead(client, panel, tonight),
    new RunPanel(client, routes, context),
    resumePractice(client, practice),
  );
  // Where the start fails, the log has the error, and the commands that help are registered all the same.
  await client.start().catch((error: unknown) => client.error('The server did not start.', error, false));
  context.subscriptions.push(sendSettings(client), new StatusItem(client, runners));
}

function clientOptions(
  log: ServerLog,
  errorHandler: ServerErrorHandler,
  chosenRunners: () => Record<string, string>,
): LanguageClientOptions {
  return {
    documentSelector: documentSelector(),
    // A function, because a server that is started again needs the values of that moment.
    initializationOptions: (): InitializationOptions => ({
      today: runnersToday(),
      rules: ruleSettings(),
      showsInPanel: true,
      showsRouteHints: showsRouteHints(),
      heldBack: errorHandler.hangs.heldBack,
      runners: chosenRunners(),
    }),
    middleware: inlineTextsAsWished,
    outputChannel: log.channel,
    errorHandler,
    // The error handler learns of the failure; asking the same server again would not help.
    initializationFailedHandler: () => false,
  };
}

/** What the commands need. */
interface CommandParts {
  readonly client: BaseLanguageClient;
  readonly routes: RouteChoice;
  readonly context: ExtensionContext;
  readonly history: GitHistory | undefined;
}

/** A command that is given what a menu passes to it: the file that was clicked. */
function command(id: string, run: (calledOn: unknown) => Promise<void>): Disposable {
  return commands.registerCommand(`routewright.${id}`, run);
}

/** The commands that own no view; the panels and the log register their own commands. */
function registerCommands({ client, routes, context, history }: CommandParts): Disposable {
  return Disposable.from(
    command('createRoute', () => createRoute(client)),
    command('openSample', () => openSample(context)),
    command('pasteTable', (file) => pasteTable(client, routes, file)),
    command('addSegment', (file) => addSegment(client, routes, file)),
    command('addTechnique', (file) => addTechnique(client, routes, file)),
    command('rankNextSkill', (file) => rankNextSkill(client, routes, file)),
    command('compareRoutes', (file) => compareRoutes(routes, history, file)),
    command('compareWithEarlier', (file) => compareWithEarlier(routes, history, file)),
    command('pasteLog', (file) => pasteLog(client, routes, file)),
    command('logBlock', (file) => logBlock(client, routes, file)),
  );
}

/** What shows numbers that rest on the files. */
interface ShowsFiles {
  refreshAfterReading(): void;
}

/** Tells everything that shows the files when the server has read them again. The client keeps one handler a method. */
function followFilesRead(client: BaseLanguageClient, ...views: readonly ShowsFiles[]): Disposable {
  return Disposable.from(
    takeNotification(client, filesReadNotification, () => {
      for (const view of views) view.refreshAfterReading();
    }),
  );
}

/** Continues a running block with every server that starts, the first one and each later one. */
function resumePractice(client: BaseLanguageClient, practice: PracticePanel): Disposable {
  return client.onDidChangeState(({ newState }) => {
    if (newState === State.Running) practice.resume();
  });
}

/** Sends settings to the server when they change; a server that starts receives them with `initialize`. */
function sendSettings(client: BaseLanguageClient): Disposable {
  return Disposable.from(
    watchInlineTexts(client, async (shown) => {
      if (client.isRunning()) await client.sendNotification(routeHintsNotification, { shown });
    }),
    watchToday(async (today) => {
      if (client.isRunning()) await client.sendNotification(todayNotification, { today });
    }),
    watchRules(async (rules) => {
      if (client.isRunning()) await client.sendNotification(rulesNotification, { rules });
    }),
  );
}
