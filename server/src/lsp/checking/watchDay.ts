import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { runnerDayOf } from '../../text/calendar.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { Estimates } from '../estimates/estimates.ts';

/** Milliseconds between two looks at the clock. A single long wait would be late on a computer that slept meanwhile. */
const pollIntervalMs = 60_000;

/**
 * Calls `changed` soon after the runner's day changes by the server's own clock, for a client that sends no date: no
 * message arrives then. A client that sends its date has a clock that stands still between two messages.
 *
 * @returns ends the watch
 */
export function watchDay(
  { workspace, estimates }: { readonly workspace: Workspace; readonly estimates: Estimates },
  changed: () => void,
): () => void {
  /** The day of the runners whose day begins at each of the hours that a week file may name. */
  const days = (): string => {
    const { now } = estimates.dayChoice();
    const weeks = workspace.groups().projects.flatMap((project) => project.weeks);
    const starts = [weekDefaults.dayStarts, ...weeks.map(({ document }) => document.dayStarts)];
    return JSON.stringify([...new Set(starts)].map((dayStarts) => [dayStarts, runnerDayOf(now, dayStarts)]));
  };
  let before = days();
  const timer = setInterval(() => {
    const now = days();
    if (now === before) return;
    before = now;
    changed();
  }, pollIntervalMs);
  return () => clearInterval(timer);
}
