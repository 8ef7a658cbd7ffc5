import { workspace, type Disposable } from 'vscode';
import {
  CodeLensRequest,
  InlayHintRequest,
  type BaseLanguageClient,
  type CodeLensMiddleware,
  type InlayHintsMiddleware,
} from 'vscode-languageclient';

/** The setting that hides each sort of text between the words or above the lines. */
const [lenses, routeHints, logHints] = ['lenses', 'routeHints', 'logHints'].map(
  (name) => `routewright.${name}`,
) as [string, string, string];
const editorsHints = 'editor.inlayHints.enabled';
const language = { languageId: 'routewright' };
const logName = /\.(?:practice|runs)\.ya?ml$/i;

function isOn(setting: string): boolean {
  return workspace.getConfiguration().get<boolean>(setting, true);
}

/** Whether the hints of routes are seen without a key: our setting and the editor's own both allow them. */
export function showsRouteHints(): boolean {
  const editors = workspace.getConfiguration(undefined, language).get<string>(editorsHints, 'on');
  return isOn(routeHints) && editors.startsWith('on');
}

/** Asks the server for hints and lenses, unless the person wants none of them in that file. */
export const inlineTextsAsWished: InlayHintsMiddleware & CodeLensMiddleware = {
  provideInlayHints: (document, range, token, next) =>
    isOn(logName.test(document.uri.path) ? logHints : routeHints) ? next(document, range, token) : [],
  provideCodeLenses: (document, token, next) => (isOn(lenses) ? next(document, token) : []),
};

/**
 * Lets the editor ask for the texts of every open file again when a setting changes.
 *
 * @param tell passes on whether hints of routes are shown, when that changes
 */
export function watchInlineTexts(
  client: BaseLanguageClient,
  tell: (shown: boolean) => Promise<void>,
): Disposable {
  let lastTold = showsRouteHints();
  return workspace.onDidChangeConfiguration((event) => {
    const shown = showsRouteHints();
    if (shown !== lastTold) void tell((lastTold = shown));
    const open = workspace.textDocuments;
    if (event.affectsConfiguration(lenses)) {
      const feature = client.getFeature(CodeLensRequest.method);
      for (const file of open) feature.getProvider(file)?.onDidChangeCodeLensEmitter.fire();
    }
    if (event.affectsConfiguration(routeHints) || event.affectsConfiguration(logHints)) {
      const feature = client.getFeature(InlayHintRequest.method);
      for (const file of open) feature.getProvider(file)?.onDidChangeInlayHints.fire();
    }
  });
}
