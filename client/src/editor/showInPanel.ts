import { commands } from 'vscode';
import { showInPanelCommand, type ShowInPanel } from '../../../server/src/protocol/panel/showInPanel.ts';

/** Opens the panel at a view; the command is that of the panel. */
export async function showInPanel(look: ShowInPanel): Promise<void> {
  await commands.executeCommand(showInPanelCommand, look);
}
