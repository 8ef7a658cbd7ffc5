import { sanitizeForTerminal } from './terminal.ts';

/**
 * A text for what an editor itself shows: messages, lists to pick from, input boxes, the status bar, lenses and errors.
 * VS Code turns `[words](command:…)` in some of them into a link that runs the command, and `$(name)` in others into an
 * icon. Which of them does what has changed between its versions, so both are broken up by a space in all of them. The
 * text stays on one line; usual names stay as they are.
 *
 * @example
 * editorText('wall-kick (fast) [late]') // 'wall-kick (fast) [late]'
 * editorText('[Lamp](command:x) $(gear)') // '[Lamp] (command:x) $ (gear)'
 */
export function editorText(text: string): string {
  return sanitizeForTerminal(text).replace(/[\]$](?=\()/g, '$& ');
}
