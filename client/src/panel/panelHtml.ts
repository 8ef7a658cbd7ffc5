import { Uri, type Webview } from 'vscode';
import { panelPage } from '../webview/panelPage.ts';

/** Where the panel's script and style lie, in the extension's folder. */
export function panelFolder(extension: Uri): Uri {
  return Uri.joinPath(extension, 'dist');
}

/** The page of the panel for one webview, with a nonce of its own. */
export function panelHtml(webview: Webview, extension: Uri): string {
  const file = (name: string): string =>
    webview.asWebviewUri(Uri.joinPath(panelFolder(extension), name)).toString();
  return panelPage({
    script: file('panel.js'),
    style: file('panel.css'),
    source: webview.cspSource,
    nonce: newNonce(),
  });
}

/** 128 random bits. */
function newNonce(): string {
  const bytes = new Uint8Array(16);
  crypto.getRandomValues(bytes);
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
