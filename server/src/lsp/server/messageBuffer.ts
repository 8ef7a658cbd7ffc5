import type { Message, MessageStrategy } from 'vscode-languageserver';

type MessageHandler = Parameters<MessageStrategy['handleMessage']>[1];

/**
 * Holds back what a client says after its greeting until there is somebody to hear it: nothing is lost, and all of it is
 * handled in the order in which it came.
 */
export class MessageBuffer implements MessageStrategy {
  private pending: (() => void)[] | undefined = [];

  handleMessage(message: Message, next: MessageHandler): ReturnType<MessageHandler> {
    const { pending: held } = this;
    if (!held || isInitializeRequest(message)) return next(message);
    return new Promise((resolve) => held.push(() => resolve(next(message))));
  }

  /** Lets through what was held back, and from now on everything at once. */
  release(): void {
    // What comes while these are handled is held back behind them.
    for (const handle of this.pending ?? []) handle();
    this.pending = undefined;
  }
}

function isInitializeRequest(message: Message): boolean {
  return 'method' in message && message.method === 'initialize';
}
