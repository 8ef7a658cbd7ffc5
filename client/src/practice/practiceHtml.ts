import { Uri, type Webview } from 'vscode';
import { panelFolder } from '../panel/panelHtml.ts';
import { practicePage } from './practicePage.ts';

/** The page of the practice view for one webview, with a nonce of its own. */
export function practiceHtml(webview: Webview, extension: Uri): string {
  const file = (name: string): string =>
    webview.asWebviewUri(Uri.joinPath(panelFolder(extension), name)).toString();
  return practicePage({
    script: file('practice.js'),
    style: file('practice.css'),
    source: webview.cspSource,
    nonce: newNonce(),
  });
}

/** 128 random bits. */
function newNonce(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
