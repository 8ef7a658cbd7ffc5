import { Uri, type Disposable, type WebviewPanel } from 'vscode';
import type { Shape } from '../../../server/src/protocol/shape.ts';
import { pageHtml, type Page } from './page.ts';

/**
 * Shows a page in a webview, with the extension's icon on its tab, and receives its messages. The page can load no file but
 * the extension's bundles.
 *
 * @param extension the extension's folder
 * @param said the shape of the page's messages; any other message is ignored
 */
export function showPage<M>(
  panel: WebviewPanel,
  extension: Uri,
  page: Page,
  messageShape: Shape<M>,
  handle: (message: M) => void,
): Disposable {
  const { webview } = panel;
  const bundles = Uri.joinPath(extension, 'dist');
  panel.iconPath = Uri.joinPath(extension, 'client/media/icon.png');
  webview.options = { enableScripts: true, localResourceRoots: [bundles] };
  // Listened to before the page is loaded, since it sends a message at once.
  const listener = webview.onDidReceiveMessage((message: unknown) => {
    if (messageShape.fits(message)) handle(message);
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
