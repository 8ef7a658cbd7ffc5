import { commands, Disposable, type ExtensionContext } from 'vscode';
import { State, type BaseLanguageClient, type LanguageClientOptions } from 'vscode-languageclient';
import {
  rulesNotification,
  todayNotification,
  type InitializationOptions,
} from '../../server/src/protocol/messages/settings.ts';
import { compareRoutes, compareWithEarlier } from './commands/compareRoutes.ts';
import { createRoute, openSample } from './commands/newRoute.ts';
import { rankNextSkill } from './commands/rankNextSkill.ts';
import { reviewPractice, showRunOdds } from './commands/showViews.ts';
import { documentSelector } from './editor/selector.ts';
import { WeekPanel } from './panel/weekPanel.ts';
import { logBlock, logRun } from './practice/forms.ts';
import { PracticePanel } from './practice/practicePanel.ts';
import { serveJournals } from './practice/storage.ts';
import { registerBugReportCommand } from './server/bugReport.ts';
import { serveFiles } from './server/files.ts';
import { serveRevisions, type GitHistory } from './server/git.ts';
import { ruleSettings, watchRules } from './server/ruleSettings.ts';
import { ServerErrorHandler } from './server/serverErrorHandler.ts';
import { ServerLog } from './server/serverLog.ts';
import { runnersToday, watchToday } from './server/today.ts';
import { MarkdownViews } from './views/markdownViews.ts';
import { StatusItem } from './views/statusItem.ts';

/** How the server is reached where the editor runs. */
export interface ServerAccess {
  /** A client that starts a server of its own whenever it is started. */
  createClient(id: string, name: string, options: LanguageClientOptions): BaseLanguageClient;
  /** Ends the server, also one that hangs. */
  end(): Promise<void>;
}

/**
 * Starts the server and everything that speaks to it; what was started ends with the extension.
 *
 * @param history the reading of git, where the editor can start it
 */
export async function start(
  context: ExtensionContext,
  server: ServerAccess,
  history?: GitHistory,
): Promise<void> {
  const log = new ServerLog();
  const crashes = new ServerErrorHandler(log, () => server.end());
  const client = server.createClient('routewright', 'Routewright', clientOptions(log, crashes));
  crashes.watch(client);
  const views = new MarkdownViews(client);
  const practice = new PracticePanel(client, context);
  context.subscriptions.push(
    log,
    crashes,
    client,
    registerBugReportCommand({ client, context, crashes, log }),
    serveFiles(client),
    serveJournals(client, context),
    practice,
    serveRevisions(client, history),
    views,
    registerCommands(client, views, context, history),
    new WeekPanel(client, context),
    resumePractice(client, practice),
  );
  // Where this does not work it is in the log, and the commands for what helps are registered.
  await client.start().catch((error: unknown) => client.error('The server did not start.', error, false));
  context.subscriptions.push(sendSettings(client), new StatusItem(client));
}

function clientOptions(log: ServerLog, errorHandler: ServerErrorHandler): LanguageClientOptions {
  return {
    documentSelector: documentSelector(),
    // Asked for at every start: a server that is started again wants what holds by then.
    initializationOptions: (): InitializationOptions => ({
      today: runnersToday(),
      rules: ruleSettings(),
      showsInPanel: true,
    }),
    outputChannel: log.channel,
    errorHandler,
    // The error handler hears of it; nothing is gained by asking the same server again.
    initializationFailedHandler: () => false,
  };
}

/** The commands that need no part of the window for themselves; the panels and the log register their own. */
function registerCommands(
  client: BaseLanguageClient,
  views: MarkdownViews,
  context: ExtensionContext,
  history: GitHistory | undefined,
): Disposable {
  return Disposable.from(
    commands.registerCommand('routewright.createRoute', () => createRoute(client)),
    commands.registerCommand('routewright.openSample', () => openSample(context)),
    commands.registerCommand('routewright.rankNextSkill', () => rankNextSkill(client)),
    commands.registerCommand('routewright.showRunOdds', () => showRunOdds(views)),
    commands.registerCommand('routewright.reviewPractice', () => reviewPractice(views)),
    commands.registerCommand('routewright.compareRoutes', () => compareRoutes(views, history)),
    commands.registerCommand('routewright.compareWithEarlier', () => compareWithEarlier(views, history)),
    commands.registerCommand('routewright.logBlock', () => logBlock(client)),
    commands.registerCommand('routewright.logRun', () => logRun(client, views)),
  );
}

/** A block that runs is taken up again by every server, the first one and those after it. */
function resumePractice(client: BaseLanguageClient, practice: PracticePanel): Disposable {
  return client.onDidChangeState(({ newState }) => {
    if (newState === State.Running) practice.resume();
  });
}

/** Tells the server of settings that change while it runs; one that is started again asks for them itself. */
function sendSettings(client: BaseLanguageClient): Disposable {
  return Disposable.from(
    watchToday(async (today) => {
      if (client.isRunning()) await client.sendNotification(todayNotification, { today });
    }),
    watchRules(async (rules) => {
      if (client.isRunning()) await client.sendNotification(rulesNotification, { rules });
    }),
  );
}
