import type { Connection } from 'vscode-languageserver';
import { editorText } from '../../safeText/editor.ts';

/** Shows a sentence to the person in front of the editor; the editor may read its characters as more than letters. */
export function tellPerson(connection: Connection, sentence: string): void {
  void connection.window.showInformationMessage(editorText(sentence));
}
