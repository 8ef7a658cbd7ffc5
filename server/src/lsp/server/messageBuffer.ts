import type { Message, MessageStrategy } from 'vscode-languageserver';

type MessageHandler = Parameters<MessageStrategy['handleMessage']>[1];

/**
 * Holds back a client's messages after `initialize` until the server can handle them: none is lost, and all are handled
 * in the order of their arrival.
 */
export class MessageBuffer implements MessageStrategy {
  private pending: (() => void)[] | undefined = [];

  handleMessage(message: Message, next: MessageHandler): ReturnType<MessageHandler> {
    const { pending } = this;
    if (!pending || isInitializeRequest(message)) return next(message);
    return new Promise((resolve) => pending.push(() => resolve(next(message))));
  }

  /** Hands over the messages held back; every later message passes at once. */
  release(): void {
    // Messages that arrive while these are handled wait behind them.
    for (const handle of this.pending ?? []) handle();
    this.pending = undefined;
  }
}

function isInitializeRequest(message: Message): boolean {
  return 'method' in message && message.method === 'initialize';
}
