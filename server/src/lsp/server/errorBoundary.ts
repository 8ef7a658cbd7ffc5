import { ErrorCodes, LSPErrorCodes, ResponseError, type CancellationToken } from 'vscode-languageserver';
import type { Steps } from '../../incremental/steps.ts';
import { editorText } from '../../safeText/editor.ts';
import { runInTurns, WorkStopped } from '../documents/eventLoop.ts';

/** Where the server writes its errors. */
export interface ErrorLog {
  error(message: string): void;
}

type Answer<P, R> = (params: P, token: CancellationToken) => R | Promise<R>;
type Handler<P, R> = (params: P, token: CancellationToken) => Promise<R | ResponseError>;

/**
 * The one place where an exception or a cancellation becomes an answer of the protocol and a line in the log. Every
 * handler of the connection is wrapped by it.
 */
export class ErrorBoundary {
  private readonly log: ErrorLog;
  private readonly ready: () => Promise<void>;

  /** @param ready resolves once the files are loaded and every edit received has been read */
  constructor(log: ErrorLog, ready: () => Promise<void>) {
    this.log = log;
    this.ready = ready;
  }

  /** A handler of requests: it answers from a workspace that is up to date. A cancelled request gets no result. */
  request<P, R>(name: string, answer: Answer<P, R>): Handler<P, R> {
    return async (params, token) => {
      try {
        await this.ready();
        if (token.isCancellationRequested) return cancelled(name);
        const result = await answer(params, token);
        if (token.isCancellationRequested) return cancelled(name);
        return result instanceof ResponseError ? errorResponse(result.code, result.message) : result;
      } catch (error) {
        if (error instanceof WorkStopped) return cancelled(name);
        this.log.error(`${name}: ${describe(error)}`);
        return errorResponse(ErrorCodes.InternalError, `${name} did not work: ${messageOf(error)}`);
      }
    };
  }

  /** The same for answers that take long: between their steps other messages are handled, a cancellation too. */
  requestInSteps<P, R>(name: string, answer: (params: P) => Steps<R>): Handler<P, R> {
    return this.request(name, (params, token) => runInTurns(answer(params), token));
  }

  /** A handler of notifications, which have no answer: errors are written to the log only. */
  notification<P>(name: string, take: (params: P) => void | Promise<void>): (params: P) => Promise<void> {
    return async (params) => {
      try {
        await take(params);
      } catch (error) {
        this.log.error(`${name}: ${describe(error)}`);
      }
    };
  }

  /** The same for work that no message started, such as the work of a timer. */
  background(name: string, run: () => void | Promise<void>): Promise<void> {
    return this.notification<void>(name, run)();
  }
}

/** An error as an answer. Editors show its message, and some read links and icons in it. */
function errorResponse(code: number, message: string): ResponseError {
  return new ResponseError(code, editorText(message));
}

function cancelled(name: string): ResponseError {
  return new ResponseError(LSPErrorCodes.RequestCancelled, `${name} was cancelled.`);
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function describe(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
