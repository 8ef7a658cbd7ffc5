import { existsSync } from 'node:fs';
import { openJournal, type Journal } from '../../journal/journal.ts';
import { beginLog } from './beginLog.ts';
import type { LogContext } from './logContext.ts';

/**
 * The journal of the runs file, which is created where it does not exist; or a sentence that says why it cannot be
 * opened.
 */
export function openRunsJournal({
  target,
  state,
  clock,
  request,
}: Pick<LogContext, 'target' | 'state' | 'clock' | 'request'>): Journal | { readonly message: string } {
  if (!existsSync(target.runs)) {
    const message = beginLog(target.runs, target.route, target.runner ?? request.values.get('runner'));
    if (message !== undefined) return { message };
  }
  const journal = openJournal(target.runs, { state, clock });
  return 'reason' in journal ? { message: `${target.runs} cannot be opened: ${journal.reason}.` } : journal;
}
