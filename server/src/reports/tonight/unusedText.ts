import type { UnusedMinutes } from '../../model/week/sessions.ts';
import { ruleText } from '../plan/planNotes.ts';

/**
 * `15 min: a block takes at least 20 min.`
 *
 * @param techniques number of techniques of the route
 */
export function unusedText(unused: UnusedMinutes, techniques: number): string {
  return `${unused.minutes} min: ${ruleText(unused.rule, techniques)}.`;
}
