import { Uri, type Disposable, type WebviewPanel } from 'vscode';
import type { Shape } from '../../../server/src/protocol/shape.ts';
import { pageHtml, type Page } from './page.ts';

/**
 * Shows a page in a webview and hears what it says. The page reaches no file but the extension's bundles.
 *
 * @param extension the extension's folder
 * @param said what the page may say: any other message is left unread
 */
export function showPage<M>(
  { webview }: WebviewPanel,
  extension: Uri,
  page: Page,
  said: Shape<M>,
  handle: (message: M) => void,
): Disposable {
  const bundles = Uri.joinPath(extension, 'dist');
  webview.options = { enableScripts: true, localResourceRoots: [bundles] };
  // The page speaks as soon as it is loaded.
  const listener = webview.onDidReceiveMessage((message: unknown) => {
    if (said.fits(message)) handle(message);
  });
  const addressOf = (name: string): string => webview.asWebviewUri(Uri.joinPath(bundles, name)).toString();
  webview.html = pageHtml(page, {
    script: addressOf(`${page.name}.js`),
    style: addressOf(`${page.name}.css`),
    source: webview.cspSource,
    nonce: newNonce(),
  });
  return listener;
}

/** 128 random bits. */
function newNonce(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
