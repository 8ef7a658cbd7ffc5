import { commands } from 'vscode';

/** A step of the walkthrough that a command completes. */
export type FirstStep = 'write' | 'rank' | 'week' | 'practise';

/**
 * Completes a step of the walkthrough. To be called where a command did what the step asks for: the steps in package.json
 * wait for these context keys and not for the command, which may have ended in a question that was closed.
 */
export function completeStep(step: FirstStep): void {
  void commands.executeCommand('setContext', `routewright.done.${step}`, true);
}
