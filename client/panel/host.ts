import {
  panelEditorMessageShape,
  type PanelEditorMessage,
  type PanelViewMessage,
  type StoredPanelState,
} from '../../server/src/protocol/panel/pageMessages.ts';

/** What the editor offers to every page in a webview. */
interface Editor {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): Editor;

/** The editor around the panel. */
export interface Host {
  send(message: PanelViewMessage): void;
  stored(): unknown;
  store(state: StoredPanelState): void;
  /** Calls `take` with every valid message; others are ignored. */
  listen(take: (message: PanelEditorMessage) => void): void;
}

export function editorHost(): Host {
  const editor = acquireVsCodeApi();
  return {
    send: (message) => editor.postMessage(message),
    stored: () => editor.getState(),
    store: (state) => editor.setState(state),
    listen: (take) => {
      window.addEventListener('message', (event: MessageEvent<unknown>) => {
        if (panelEditorMessageShape.fits(event.data)) take(event.data);
      });
    },
  };
}
