import { notification } from './message.ts';
import { booleanShape, opaque, record, textShape } from '../shape.ts';

/** Sent by the client with `initialize`. */
export interface InitializationOptions {
  /**
   * The runner's date, with the time of day where it is known: `2026-10-05T19:30`. `last`: the day after the last log
   * entry. Left out: today on the server's own clock.
   */
  readonly today?: string;
  /** By a finding's code: the severity that the person has set for it, or `off`. */
  readonly rules?: Readonly<Record<string, string>>;
  /** Whether the client has the command `routewright.showInPanel`. */
  readonly showsInPanel?: boolean;
  /** Whether the client shows the hints of routes. Left out: no. */
  readonly showsRouteHints?: boolean;
  /**
   * URIs of files that the server must not read until they change: the server before it never got to their end. A
   * client that sends this, even empty, is told which file the server works on.
   */
  readonly heldBack?: readonly string[];
  /** By the URI of a route's folder: the runner whose logs count there. */
  readonly runners?: Readonly<Record<string, string>>;
}

const todayParams = record({ today: textShape });
/** Client → server: the date or the hour has changed. */
export const todayNotification = notification('routewright/today', todayParams);

const routeHintsParams = record({ shown: booleanShape });
/** Client → server: the person has turned the hints of routes on or off. */
export const routeHintsNotification = notification('routewright/routeHints', routeHintsParams);

// People write these settings by hand: the server ignores each entry that is not valid, and keeps the others.
const rulesParams = record({ rules: opaque<Readonly<Record<string, string>>>() });
/** Client → server: the severities that the person has set, by a finding's code. */
export const rulesNotification = notification('routewright/rules', rulesParams);
