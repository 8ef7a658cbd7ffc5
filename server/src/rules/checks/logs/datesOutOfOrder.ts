import { runnerDayOf } from '../../../text/calendar.ts';
import type { Moment } from '../../../text/calendar.ts';
import { dayStartsOf } from '../../../queries/dayStarts.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { entryStarts } from '../../lookup/entryStarts.ts';

/** An entry that began before the one above it. */
export const datesOutOfOrder: Rule = {
  code: 'dates-out-of-order',
  severity: 'warning',
  title: 'A session or run that began before the one above it.',
  page: {
    why: 'A wrong date moves a session by days or months, and with it what was learned and forgotten since.',
    way: 'Correct the date, or move the entry to where it belongs.',
    failing: {
      practice: `sessions:
  - start: 2026-10-06T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
  - start: 2026-10-06T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
  },
  check(context) {
    const dayStarts = dayStartsOf(context.own);
    return entryStarts(context.project).flatMap((starts) =>
      starts.flatMap(({ moment, place }, at): RuleReport[] => {
        const above = starts[at - 1];
        if (!above || !isBefore(moment, above.moment, dayStarts)) return [];
        const message =
          'This began before the entry above it. Correct the date, or move the entry up: logs go from old to new.';
        return [{ ...place, message, related: [{ ...above.place, message: 'The entry above began here.' }] }];
      }),
    );
  },
};

/** Where one of the two has no time of day, only their days are compared, as the runner counts days. */
function isBefore(a: Moment, b: Moment, dayStarts: number): boolean {
  if (a.minute === undefined || b.minute === undefined)
    return runnerDayOf(a, dayStarts) < runnerDayOf(b, dayStarts);
  return a.date < b.date || (a.date === b.date && a.minute < b.minute);
}
