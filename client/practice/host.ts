import { toPracticeShape, type FromPractice, type ToPractice } from '../../server/src/protocol/practice.ts';

interface Editor {
  postMessage(message: unknown): void;
}

declare function acquireVsCodeApi(): Editor;

/** The editor around the practice view. Nothing is stored in the page: the editor keeps the block and its time. */
export interface Host {
  tell(message: FromPractice): void;
  /** Calls for every message that is in order; others are left unread. */
  listen(take: (message: ToPractice) => void): void;
}

export function editorHost(): Host {
  const editor = acquireVsCodeApi();
  return {
    tell: (message) => editor.postMessage(message),
    listen: (take) => {
      window.addEventListener('message', (event: MessageEvent<unknown>) => {
        if (toPracticeShape.fits(event.data)) take(event.data);
      });
    },
  };
}
