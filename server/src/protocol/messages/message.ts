/**
 * Messages between the client and the server, each described once: its method, the shape of what is asked and of what
 * is answered. The types of TypeScript and the check of what arrives both come from the description.
 *
 * This module needs the library that speaks the protocol. The pages and the command line import shapes only.
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
/** What both a connection of the server and a client of the editor can do with messages of ours. */
interface Requests {
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
 * Answers a request. Params that do not fit the request's shape never reach the handler: whoever asked is told the
 * place, with the code InvalidParams.
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

/** Takes a notification. Of params that do not fit nothing is done but an entry in the log. */
export function takeNotification<P>(
  connection: Notifications,
  type: Notification<P>,
  handler: (params: P) => void | Promise<void>,
): Registration {
  return connection.onNotification(type, (params) => {
    const problem = misfitIn(type, params);
    // The connection writes what a handler throws into the log.
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

/** Sends a request whose params have a type that the caller does not know, which `sendRequest` has no overload for. */
export function sendRequest<P, R>(
  connection: Sender,
  type: Request<P, R>,
  params: P,
  token?: CancellationToken,
): Promise<R> {
  return connection.sendRequest(type, params, token);
}

/**
 * Asks the other side for what not every client can answer.
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
