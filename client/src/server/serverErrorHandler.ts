import { commands, Disposable, l10n } from 'vscode';
import { CloseAction, ErrorAction } from 'vscode-languageclient';
import type {
  BaseLanguageClient,
  CloseHandlerResult,
  ErrorHandler,
  ErrorHandlerResult,
} from 'vscode-languageclient';
import { showError, showInformation, showStatus, showWarning } from '../editor/messages.ts';
import { HangWatch } from './hangWatch.ts';
import type { ServerLog } from './serverLog.ts';

/** How many times within three minutes the server is started again; after one more end it stays stopped. */
const maxRestarts = 4;

const restart = l10n.t('Restart Server');
const report = l10n.t('Gather a Bug Report');

/**
 * Starts the server again when it ended without being asked to; the editor then sends it the current texts of the open
 * files. The person is told the first time. A server that ends again and again stays stopped, and the message then
 * offers a way to go on.
 */
export class ServerErrorHandler extends Disposable implements ErrorHandler {
  private readonly log: ServerLog;
  private readonly endServer: () => Promise<void>;
  private client: BaseLanguageClient | undefined;
  private defaultHandler: ErrorHandler | undefined;
  private restartReported = false;
  private restarting: Promise<void> | undefined;
  private readonly parts: Disposable;
  /** Which file the server works on, and what the next server is not to read. */
  readonly hangs: HangWatch;
  /** How often the server ended without being asked to. */
  count = 0;

  /** @param endServer ends a server that does not react to being asked to stop */
  constructor(log: ServerLog, endServer: () => Promise<void>) {
    super(() => void this.parts.dispose());
    this.log = log;
    this.endServer = endServer;
    const again = () => this.restart();
    this.hangs = new HangWatch(again);
    this.parts = Disposable.from(this.hangs, commands.registerCommand('routewright.restartServer', again));
  }

  /** Begins to watch a client, which must use this as its error handler. */
  watch(client: BaseLanguageClient): void {
    this.client = client;
    this.hangs.follow(client);
    this.defaultHandler = client.createDefaultErrorHandler(maxRestarts);
  }

  /**
   * An error in the server's thread also ends the thread, and that end is reported separately. Here only the reason is
   * noted.
   */
  error(error: Error): ErrorHandlerResult {
    this.log.channel.error(`The server had an error: ${error.stack ?? error.message}`);
    return { action: ErrorAction.Continue, handled: true };
  }

  async closed(): Promise<CloseHandlerResult> {
    if (this.restarting) return { action: CloseAction.DoNotRestart, handled: true };
    this.count++;
    this.hangs.ended();
    const { action } = (await this.defaultHandler?.closed()) ?? { action: CloseAction.DoNotRestart };
    if (action === CloseAction.Restart) this.tellRestarted();
    else this.tellStopped();
    const message =
      action === CloseAction.Restart ? l10n.t('It is started again.') : l10n.t('It is not started again.');
    return { action, handled: true, message: l10n.t('The server ended by itself. {0}', message) };
  }

  /** Starts the server again, in any state. */
  private restart(): Promise<void> {
    this.restarting ??= this.startAgain().finally(() => {
      this.restarting = undefined;
    });
    return this.restarting;
  }

  private async startAgain(): Promise<void> {
    const { client } = this;
    if (!client) return;
    // A server that hangs does not answer the request to stop; it is ended anyway.
    const answered = await client.stop().then(
      () => true,
      (error: unknown) => {
        client.error('The server did not stop.', error, false);
        return false;
      },
    );
    await this.endServer();
    this.hangs.stopped(answered);
    this.defaultHandler = client.createDefaultErrorHandler(maxRestarts);
    this.restartReported = false;
    try {
      await client.start();
      const { leftOut } = this.hangs;
      if (leftOut === undefined) showStatus(l10n.t('Routewright: the server was started again.'), 5000);
      else void showInformation(withoutFile(leftOut));
    } catch (error) {
      client.error('The server did not start.', error, false);
      this.tell(showError(l10n.t('The Routewright server could not be started.'), restart, report));
    }
  }

  private tellRestarted(): void {
    const { leftOut } = this.hangs;
    if (leftOut !== undefined) void showInformation(withoutFile(leftOut));
    if (this.restartReported) return;
    this.restartReported = true;
    this.tell(
      showWarning(
        l10n.t('The Routewright server ended and was started again. Your files are unchanged.'),
        report,
      ),
    );
  }

  private tellStopped(): void {
    this.tell(
      showError(
        l10n.t(
          'The Routewright server ended {0} times within three minutes and is not started again. ',
          maxRestarts + 1,
        ) + l10n.t('Your files are unchanged. Restart the server to have findings and numbers again.'),
        restart,
        report,
      ),
    );
  }

  /** Does what the person chooses in a message; does not wait for their choice. */
  private tell(message: Thenable<string | undefined>): void {
    void message.then((chosen) => {
      if (chosen === restart) return this.restart();
      return chosen === report ? commands.executeCommand('routewright.gatherBugReport') : undefined;
    });
  }
}

function withoutFile(name: string): string {
  return l10n.t('Routewright was started again without {0}. The file is read again once it changes.', name);
}
