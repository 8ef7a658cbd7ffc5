import { Disposable, l10n, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { workingOnNotification } from '../../../server/src/protocol/messages/findings.ts';
import { showWarning } from '../editor/messages.ts';
import { Timer } from '../editor/timer.ts';

/** Milliseconds of work on one file after which the person is asked; the largest file takes a second. */
const longMs = 20_000;

/**
 * Follows which file the server works on. Where the server does not get to its end, the next server is told to leave
 * that file alone, so that the other files have their findings and numbers.
 */
export class HangWatch extends Disposable {
  /** URIs of the files that the next server must not read until they change. */
  heldBack: readonly string[] = [];
  private readonly restart: () => Promise<void>;
  private workingOn: string | null = null;
  private atLastEnd: string | null = null;
  private readonly timer = new Timer();
  private listener: Disposable | undefined;

  /** @param restart ends the server, even one that hangs, and starts another */
  constructor(restart: () => Promise<void>) {
    super(() => {
      this.timer.stop();
      this.listener?.dispose();
    });
    this.restart = restart;
  }

  follow(client: BaseLanguageClient): void {
    this.listener = client.onNotification(workingOnNotification, ({ uri }) => this.began(uri));
  }

  /** The server was stopped. @param answered false where it did not react to being asked to stop */
  stopped(answered: boolean): void {
    this.heldBack = !answered && this.workingOn !== null ? [this.workingOn] : [];
    this.forget();
    this.atLastEnd = null;
  }

  /** The server ended by itself. The first time may be chance; a file with which it ends twice in a row is to blame. */
  ended(): void {
    const { workingOn } = this;
    if (workingOn !== null && workingOn === this.atLastEnd) this.heldBack = [workingOn];
    this.forget();
    this.atLastEnd = workingOn;
  }

  /** What was left out by the server that was started last, for a message; undefined where nothing was. */
  get leftOut(): string | undefined {
    return this.heldBack.length > 0 ? this.heldBack.map(fileName).join(', ') : undefined;
  }

  private began(uri: string | null): void {
    this.workingOn = uri;
    if (uri === null) this.timer.stop();
    else this.timer.start(longMs, () => void this.ask(uri));
  }

  private async ask(uri: string): Promise<void> {
    const go = l10n.t('Restart Without It');
    const asked = l10n.t(
      'Routewright has been working on {0} for {1} seconds and can do nothing else meanwhile.',
      fileName(uri),
      longMs / 1000,
    );
    const chosen = await showWarning(asked, go);
    // It may have come to the end while the message was shown.
    if (chosen === go && this.workingOn === uri) await this.restart();
  }

  private forget(): void {
    this.timer.stop();
    this.workingOn = null;
  }
}

function fileName(uri: string): string {
  return workspace.asRelativePath(Uri.parse(uri));
}
