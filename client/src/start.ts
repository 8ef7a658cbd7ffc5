import { commands, type ExtensionContext } from 'vscode';
import { State, type BaseLanguageClient, type LanguageClientOptions } from 'vscode-languageclient';
import {
  rulesNotification,
  todayNotification,
  type InitializationOptions,
  type RulesParams,
  type TodayParams,
} from '../../server/src/protocol/messages/settings.ts';
import { registerBugReportCommand } from './server/bugReport.ts';
import { compareRoutes, compareWithEarlier } from './commands/compareRoutes.ts';
import { ServerErrorHandler } from './server/serverErrorHandler.ts';
import { serveFiles } from './server/files.ts';
import { serveRevisions, type GitHistory } from './server/git.ts';
import { createRoute, openSample } from './commands/newRoute.ts';
import { WeekPanel } from './panel/weekPanel.ts';
import { rankNextSkill } from './commands/rankNextSkill.ts';
import { PracticePanel } from './practice/practicePanel.ts';
import { logBlock, logRun } from './practice/forms.ts';
import { serveJournals } from './practice/storage.ts';
import { ruleSettings, watchRules } from './server/ruleSettings.ts';
import { documentSelector } from './editor/selector.ts';
import { ServerLog } from './server/serverLog.ts';
import { reviewPractice, showRunOdds } from './commands/showViews.ts';
import { StatusItem } from './views/statusItem.ts';
import { runnersToday, watchToday } from './server/today.ts';
import { MarkdownViews } from './views/markdownViews.ts';

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
  const client = server.createClient('routewright', 'Routewright', {
    documentSelector: documentSelector(),
    // Asked for at every start: a server that is started again wants what holds by then.
    initializationOptions: (): InitializationOptions => ({
      today: runnersToday(),
      rules: ruleSettings(),
      showsInPanel: true,
    }),
    outputChannel: log.channel,
    errorHandler: crashes,
    // Told by what ended it; nothing is gained by asking the same server again.
    initializationFailedHandler: () => false,
  });
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
    commands.registerCommand('routewright.createRoute', () => createRoute(client)),
    commands.registerCommand('routewright.openSample', () => openSample(context)),
    commands.registerCommand('routewright.rankNextSkill', () => rankNextSkill(client)),
    commands.registerCommand('routewright.showRunOdds', () => showRunOdds(views)),
    commands.registerCommand('routewright.reviewPractice', () => reviewPractice(views)),
    commands.registerCommand('routewright.compareRoutes', () => compareRoutes(views, history)),
    commands.registerCommand('routewright.compareWithEarlier', () => compareWithEarlier(views, history)),
    commands.registerCommand('routewright.logBlock', () => logBlock(client)),
    commands.registerCommand('routewright.logRun', () => logRun(client, views)),
    new WeekPanel(client, context),
  );
  context.subscriptions.push(
    // A block that runs is taken up again by every server, the first one and those after it.
    client.onDidChangeState(({ newState }) => {
      if (newState === State.Running) practice.resume();
    }),
  );
  // Where this does not work it is in the log, and the commands for what helps are there.
  await client.start().catch((error: unknown) => client.error('The server did not start.', error, false));
  const tell = async (today: string): Promise<void> => {
    const params: TodayParams = { today };
    if (client.isRunning()) await client.sendNotification(todayNotification, params);
  };
  const tellRules = async (rules: RulesParams['rules']): Promise<void> => {
    const params: RulesParams = { rules };
    if (client.isRunning()) await client.sendNotification(rulesNotification, params);
  };
  context.subscriptions.push(watchToday(tell), watchRules(tellRules), new StatusItem(client));
}
