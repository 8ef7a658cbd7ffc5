import { commands, type ExtensionContext } from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import {
  rulesNotification,
  todayNotification,
  type InitializationOptions,
  type RulesParams,
  type TodayParams,
} from '../../server/src/protocol.ts';
import { compareRoutes, compareWithEarlier } from './compareRoutes.ts';
import { serveFiles } from './files.ts';
import { serveRevisions, type History } from './git.ts';
import { WeekPanel } from './panel.ts';
import { rankNextSkill } from './rankNextSkill.ts';
import { Practice } from './practice.ts';
import { logBlock, logRun } from './practiceForms.ts';
import { serveJournals } from './practiceStorage.ts';
import { ruleSettings, watchRules } from './ruleSettings.ts';
import { documentSelector } from './selector.ts';
import { reviewPractice, showRunOdds } from './showViews.ts';
import { StatusItem } from './statusItem.ts';
import { runnersToday, watchToday } from './today.ts';
import { Views } from './views.ts';

export type CreateClient = (id: string, name: string, options: LanguageClientOptions) => BaseLanguageClient;

/**
 * Starts the server and everything that speaks to it; what was started ends with the extension.
 *
 * @param history the reading of git, where the editor can start it
 */
export async function start(
  context: ExtensionContext,
  createClient: CreateClient,
  history?: History,
): Promise<void> {
  const initializationOptions: InitializationOptions = { today: runnersToday(), rules: ruleSettings() };
  const client = createClient('routewright', 'Routewright', {
    documentSelector: documentSelector(),
    initializationOptions,
  });
  const views = new Views(client);
  const practice = new Practice(client, context);
  context.subscriptions.push(
    client,
    serveFiles(client),
    serveJournals(client, context),
    practice,
    serveRevisions(client, history),
    views,
    commands.registerCommand('routewright.rankNextSkill', () => rankNextSkill(client)),
    commands.registerCommand('routewright.showRunOdds', () => showRunOdds(views)),
    commands.registerCommand('routewright.reviewPractice', () => reviewPractice(views)),
    commands.registerCommand('routewright.compareRoutes', () => compareRoutes(views, history)),
    commands.registerCommand('routewright.compareWithEarlier', () => compareWithEarlier(views, history)),
    commands.registerCommand('routewright.logBlock', () => logBlock(client)),
    commands.registerCommand('routewright.logRun', () => logRun(client, views)),
    new WeekPanel(client, context),
  );
  await client.start();
  practice.resume();
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
