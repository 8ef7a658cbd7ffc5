import type { UnusedMinutes } from '../../model/week/sessions.ts';
import { ruleTexts } from '../plan/planNotes.ts';

/** `15 min: a block takes at least 20 min.` */
export function unusedText(unused: UnusedMinutes): string {
  return `${unused.minutes} min: ${ruleTexts[unused.rule]}.`;
}
