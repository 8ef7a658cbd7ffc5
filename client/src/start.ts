import { commands, type ExtensionContext } from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import {
  todayNotification,
  type InitializationOptions,
  type TodayParams,
} from '../../server/src/protocol.ts';
import { serveFiles } from './files.ts';
import { rankNextSkill } from './rankNextSkill.ts';
import { documentSelector } from './selector.ts';
import { StatusItem } from './statusItem.ts';
import { runnersToday, watchToday } from './today.ts';

export type CreateClient = (id: string, name: string, options: LanguageClientOptions) => BaseLanguageClient;

/** Starts the server and everything that speaks to it; what was started ends with the extension. */
export async function start(context: ExtensionContext, createClient: CreateClient): Promise<void> {
  const initializationOptions: InitializationOptions = { today: runnersToday() };
  const client = createClient('routewright', 'Routewright', {
    documentSelector: documentSelector(),
    initializationOptions,
  });
  context.subscriptions.push(
    client,
    serveFiles(client),
    commands.registerCommand('routewright.rankNextSkill', () => rankNextSkill(client)),
  );
  await client.start();
  const tell = async (today: string): Promise<void> => {
    const params: TodayParams = { today };
    if (client.isRunning()) await client.sendNotification(todayNotification, params);
  };
  context.subscriptions.push(watchToday(tell), new StatusItem(client));
}

/** Nothing is left to do: the client is among the subscriptions, which the editor disposes of. */
export function stop(): void {}
