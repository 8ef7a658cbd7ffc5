import {
  panelEditorMessageShape,
  type PanelEditorMessage,
  type PanelViewMessage,
  type StoredPanelState,
} from '../../server/src/protocol/panel/pageMessages.ts';

/** What the editor gives every page of its own. */
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
  /** Calls for every message that is in order; others are left unread. */
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
