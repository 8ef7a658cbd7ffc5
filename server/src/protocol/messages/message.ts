/**
 * Messages between the client and the server, each described once: its method, the shape of its params and of its
 * result. The TypeScript types and the check at run time both come from this description.
 *
 * This module imports the protocol's library. The pages and the command line import shapes only.
 */
import {
  ErrorCodes,
  NotificationType,
  ParameterStructures,
  RequestType,
  ResponseError,
  type CancellationToken,
  type HandlerResult,
} from 'vscode-jsonrpc';
import type { Shape } from '../shape.ts';

/** A request: `connection.sendRequest(request, params)` gives its result. */
export class Request<P, R> extends RequestType<P, R, void> {
  readonly params: Shape<P>;
  readonly result: Shape<R>;

  constructor(method: string, params: Shape<P>, result: Shape<R>) {
    super(method, ParameterStructures.byName);
    this.params = params;
    this.result = result;
  }
}

/** Describes a request. */
export function request<P, R>(
  method: string,
  { params, result }: { readonly params: Shape<P>; readonly result: Shape<R> },
): Request<P, R> {
  return new Request(method, params, result);
}

/** A message without an answer: `connection.sendNotification(notification, params)`. */
export class Notification<P> extends NotificationType<P> {
  readonly params: Shape<P>;

  constructor(method: string, params: Shape<P>) {
    super(method, ParameterStructures.byName);
    this.params = params;
  }
}

/** Describes a notification. */
export function notification<P>(method: string, params: Shape<P>): Notification<P> {
  return new Notification(method, params);
}

interface Registration {
  dispose(): void;
}
/** What the server's connection and the editor's language client have in common for messages of our own. */
export interface Requests {
  onRequest<P, R>(
    type: RequestType<P, R, void>,
    handler: (params: P, token: CancellationToken) => HandlerResult<R, void>,
  ): Registration;
}
interface Notifications {
  onNotification<P>(type: NotificationType<P>, handler: (params: P) => void | Promise<void>): Registration;
}
interface Sender {
  sendRequest<P, R>(type: RequestType<P, R, void>, params: P, token?: CancellationToken): Promise<R>;
}

/**
 * Answers a request. Params that do not fit the request's shape never reach the handler: the sender gets the error
 * InvalidParams with the place.
 */
export function answerRequest<P, R>(
  connection: Requests,
  type: Request<P, R>,
  handler: (params: P, token: CancellationToken) => HandlerResult<R, void>,
): Registration {
  return connection.onRequest(type, (params, token) => {
    const problem = misfitIn(type, params);
    return problem === undefined
      ? handler(params, token)
      : new ResponseError(ErrorCodes.InvalidParams, problem);
  });
}

/** Handles a notification. Params that do not fit its shape never reach the handler: the log gets an entry. */
export function takeNotification<P>(
  connection: Notifications,
  type: Notification<P>,
  handler: (params: P) => void | Promise<void>,
): Registration {
  return connection.onNotification(type, (params) => {
    const problem = misfitIn(type, params);
    // The connection writes an error that a handler throws into the log.
    if (problem !== undefined) throw new Error(problem);
    return handler(params);
  });
}

/** What is wrong with params, in a sentence with the place; undefined where they fit. */
function misfitIn(
  { method, params }: { readonly method: string; readonly params: Shape<unknown> },
  value: unknown,
): string | undefined {
  const misfit = params.misfit(value);
  if (!misfit) return undefined;
  return `${method}: params${misfit.path === '' ? '' : `.${misfit.path}`} must be ${misfit.expected}.`;
}

/**
 * Sends a request whose params' type is generic at the call; the client's own `sendRequest` has no overload for that.
 */
export function sendRequest<P, R>(
  connection: Sender,
  type: Request<P, R>,
  params: P,
  token?: CancellationToken,
): Promise<R> {
  return connection.sendRequest(type, params, token);
}

/**
 * Sends a request that not every client knows.
 *
 * @param otherwise the result where the other side does not know the request
 * @throws ResponseError where it knows the request and could not answer
 */
export async function requestOr<P, R>(
  connection: Sender,
  type: Request<P, R>,
  params: P,
  otherwise: R,
): Promise<R> {
  try {
    return await connection.sendRequest(type, params);
  } catch (error) {
    if (error instanceof ResponseError && error.code === ErrorCodes.MethodNotFound) return otherwise;
    throw error;
  }
}
