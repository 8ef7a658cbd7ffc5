import {
  runEditorMessageShape,
  type RunEditorMessage,
  type RunPageMessage,
  type StoredRunPage,
} from '../../../server/src/protocol/runLog/pageMessages.ts';

interface Editor {
  postMessage(message: unknown): void;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): Editor;

/** The editor around the page of a run. It keeps what is filled in; the page stores only the file that it is for. */
export interface Host {
  send(message: RunPageMessage): void;
  store(state: StoredRunPage): void;
  /** Calls `take` with every valid message; others are ignored. */
  listen(take: (message: RunEditorMessage) => void): void;
}

export function editorHost(): Host {
  const editor = acquireVsCodeApi();
  return {
    send: (message) => editor.postMessage(message),
    store: (state) => editor.setState(state),
    listen: (take) => {
      window.addEventListener('message', (event: MessageEvent<unknown>) => {
        if (runEditorMessageShape.fits(event.data)) take(event.data);
      });
    },
  };
}
