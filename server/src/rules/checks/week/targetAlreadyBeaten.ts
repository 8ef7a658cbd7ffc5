import { compareMoments, runnerDayOf } from '../../../text/calendar.ts';
import { formatTime } from '../../../text/time.ts';
import { dayStartsOf } from '../../../queries/dayStarts.ts';
import type { Rule } from '../../engine/rule.ts';
import { targetRef } from '../../lookup/targetRef.ts';

/** How many of the latest finished runs are looked at. */
const lastRuns = 10;
/** Fewer finished runs than this say too little. */
const minRuns = 5;

/** A target that most of the last finished runs have beaten. */
export const targetAlreadyBeaten: Rule = {
  code: 'target-already-beaten',
  severity: 'hint',
  title: 'A target that most of the last finished runs have beaten.',
  page: {
    why: 'With such a target the ranking prefers what makes a run safer to what makes it faster.',
    way: 'Set the time that you want next, in the week file.',
    failing: {
      week: 'target: "3:40"\n',
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 3:36.1 }
  - { start: 2026-10-05T20:10, total: 3:38.4 }
  - { start: 2026-10-05T20:20, total: 3:35.9 }
  - { start: 2026-10-05T20:30, total: 3:41.2 }
  - { start: 2026-10-05T20:40, total: 3:37.7 }
`,
    },
    passing: {
      week: 'target: "3:35"\n',
      runs: `runs:
  - { start: 2026-10-05T20:00, total: 3:36.1 }
  - { start: 2026-10-05T20:10, total: 3:38.4 }
  - { start: 2026-10-05T20:20, total: 3:35.9 }
  - { start: 2026-10-05T20:30, total: 3:41.2 }
  - { start: 2026-10-05T20:40, total: 3:37.7 }
`,
    },
  },
  check(context) {
    const target = targetRef(context);
    if (!target) return [];
    const dayStarts = dayStartsOf(context.own);
    const totals = context.own.runs
      .flatMap(({ document }) => document.runs)
      .filter(({ kind, total, endings }) => kind === 'run' && total !== undefined && endings.length === 0)
      .filter(({ start }) => runnerDayOf(start, dayStarts) <= context.today)
      .sort((a, b) => compareMoments(a.start, b.start))
      .slice(-lastRuns)
      .map(({ total }) => total!);
    const beaten = totals.filter((total) => total < target.seconds).length;
    if (totals.length < minRuns || beaten <= totals.length / 2) return [];
    const message = `${beaten} of the last ${totals.length} finished runs were faster than ${formatTime(target.seconds)}. A lower target shows again what is worth learning next.`;
    return [{ ...target.place, message }];
  },
};
