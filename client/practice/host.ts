import {
  practiceEditorMessageShape,
  type PracticeEditorMessage,
  type PracticeViewMessage,
} from '../../server/src/protocol/practice/pageMessages.ts';

interface Editor {
  postMessage(message: unknown): void;
}

declare function acquireVsCodeApi(): Editor;

/** The editor around the practice view. The page stores nothing: the editor keeps the block and its time. */
export interface Host {
  send(message: PracticeViewMessage): void;
  /** Calls `take` with every valid message; others are ignored. */
  listen(take: (message: PracticeEditorMessage) => void): void;
}

export function editorHost(): Host {
  const editor = acquireVsCodeApi();
  return {
    send: (message) => editor.postMessage(message),
    listen: (take) => {
      window.addEventListener('message', (event: MessageEvent<unknown>) => {
        if (practiceEditorMessageShape.fits(event.data)) take(event.data);
      });
    },
  };
}
