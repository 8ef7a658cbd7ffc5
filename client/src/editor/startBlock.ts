import { commands, Uri } from 'vscode';

/** Starts a practice block of a technique of the route that a file belongs to, or shows the block that runs. */
export async function startBlock(uri: string, technique: string): Promise<void> {
  await commands.executeCommand('routewright.startPracticeBlock', Uri.parse(uri), technique);
}
