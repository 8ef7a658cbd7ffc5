import { toPanelShape, type FromPanel, type Stored, type ToPanel } from '../../server/src/protocol/panel.ts';

/** What the editor gives every page of its own. */
interface Editor {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): Editor;

/** The editor around the panel. */
export interface Host {
  tell(message: FromPanel): void;
  stored(): unknown;
  store(state: Stored): void;
  /** Calls for every message that is in order; others are left unread. */
  listen(take: (message: ToPanel) => void): void;
}

export function editorHost(): Host {
  const editor = acquireVsCodeApi();
  return {
    tell: (message) => editor.postMessage(message),
    stored: () => editor.getState(),
    store: (state) => editor.setState(state),
    listen: (take) => {
      window.addEventListener('message', (event: MessageEvent<unknown>) => {
        if (toPanelShape.fits(event.data)) take(event.data);
      });
    },
  };
}
