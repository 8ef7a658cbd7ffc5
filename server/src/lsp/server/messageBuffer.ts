import type { Message, MessageStrategy } from 'vscode-languageserver';

type Handle = Parameters<MessageStrategy['handleMessage']>[1];

/**
 * Holds back what a client says after its greeting until there is somebody to hear it: nothing is lost, and all of it is
 * handled in the order in which it came.
 */
export class Gate implements MessageStrategy {
  private held: (() => void)[] | undefined = [];

  handleMessage(message: Message, next: Handle): ReturnType<Handle> {
    const { held } = this;
    if (!held || isGreeting(message)) return next(message);
    return new Promise((resolve) => held.push(() => resolve(next(message))));
  }

  /** Lets through what was held back, and from now on everything at once. */
  open(): void {
    // What comes while these are handled is held back behind them.
    for (const handle of this.held ?? []) handle();
    this.held = undefined;
  }
}

function isGreeting(message: Message): boolean {
  return 'method' in message && message.method === 'initialize';
}
