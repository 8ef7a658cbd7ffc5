import type { WorkWatch } from '../../workspace/workWatch.ts';
import { yieldToEventLoop } from './eventLoop.ts';

/**
 * Tells the client which file the server works on, before the work begins: a server that hangs can tell nothing any
 * more. The client can then start another server that leaves this file alone.
 */
export class WorkTeller implements WorkWatch {
  private readonly tell: (uri: string | null) => void;
  /** What the client was told last. */
  private told: string | null = null;

  /** @param tell sends a message at once; null: the server works on no file */
  constructor(tell: (uri: string | null) => void) {
    this.tell = tell;
  }

  on<T>(uri: string, work: () => T): T {
    if (this.told === null) void this.tellOnceIdle();
    if (this.told !== uri) this.tell(uri);
    this.told = uri;
    return work();
  }

  /** The end is told once for all files of a turn: hundreds are read after one another when a folder is opened. */
  private async tellOnceIdle(): Promise<void> {
    await yieldToEventLoop();
    this.told = null;
    this.tell(null);
  }
}
