import { isInSet } from '../../../model/core/standing.ts';
import { weekdayOf } from '../../../queries/weekInput.ts';
import {
  daysOf,
  groupByTechnique,
  recentSessions,
  sessionStartRef,
  type RecentSession,
} from '../../lookup/recentPractice.ts';
import type { ForecastRule, RuleContext } from '../../engine/rule.ts';
import { listIds } from '../../lookup/words.ts';

/** Days without practice in a row from which the practice set is interrupted. */
const minDays = 6;
/** The same in days with time for practice, where the week file says which days those are. */
const minPlanned = 3;
/** How many days before the gap the set is looked for. */
const setDays = 7;
/** How many days back a gap is looked for. */
const days = 28;

/** Days in a row without practice while something is in the practice set. */
export const gapInPractice: ForecastRule = {
  code: 'gap-in-practice',
  severity: 'hint',
  title: 'Days in a row without practice while something is in the practice set.',
  page: {
    why: 'A technique that is being learned gains from the nights between two days of practice. In a gap these nights are missing; little of what was learned is lost.',
    way: 'On short days one block of 20 minutes is enough to go on with the set; days off belong under `off` in the week file.',
    failing: {
      practice: `sessions:
  - { start: 2026-10-01T19:00, blocks: [{ technique: rope-swing, minutes: 25, landed: [40, 200] }] }
  - { start: 2026-10-02T19:00, blocks: [{ technique: rope-swing, minutes: 25, landed: [50, 200] }] }
  - { start: 2026-10-12T19:00, blocks: [{ technique: rope-swing, minutes: 25, landed: [45, 200] }] }
`,
    },
    passing: {
      practice: `sessions:
  - { start: 2026-10-01T19:00, blocks: [{ technique: rope-swing, minutes: 25, landed: [40, 200] }] }
  - { start: 2026-10-02T19:00, blocks: [{ technique: rope-swing, minutes: 25, landed: [50, 200] }] }
  - { start: 2026-10-05T19:00, blocks: [{ technique: rope-swing, minutes: 25, landed: [65, 200] }] }
`,
    },
  },
  techniqueIds: (context) => gap(context)?.set ?? [],
  check(context, assessment) {
    const found = gap(context);
    if (!found) return [];
    const open = found.set.filter((id) => {
      const standing = assessment.get(id)?.standing;
      return standing !== undefined && isInSet(standing);
    });
    if (open.length === 0) return [];
    const message = `${found.days} days without practice passed before this session, while ${listIds(open)} ${open.length === 1 ? 'was' : 'were'} in the practice set. Little is forgotten in that time, but the nights between days of practice are missing: on short days a block of 20 minutes is enough to go on with the set. Days off can be written under \`off\` in the week file.`;
    return [{ ...sessionStartRef(found.after), message }];
  },
};

interface Gap {
  /** The first session after it. */
  readonly after: RecentSession;
  /** Days without practice on which there could have been some. */
  readonly days: number;
  /** Techniques practised on two days or more before it, and again since. */
  readonly set: readonly string[];
}

/** The latest gap of the last days; undefined where there is none. */
function gap(context: RuleContext): Gap | undefined {
  const sessions = recentSessions(context, days);
  for (let at = sessions.length - 1; at > 0; at--) {
    const after = sessions[at]!;
    const before = sessions[at - 1]!;
    const { days, enough } = between(context, before.day, after.day);
    if (days < enough) continue;
    const earlier = groupByTechnique(sessions.slice(0, at).filter(({ day }) => day > before.day - setDays));
    const since = groupByTechnique(sessions.slice(at));
    const set = [...earlier].flatMap(([id, blocks]) =>
      since.has(id) && daysOf(blocks).size >= 2 ? [id] : [],
    );
    return set.length > 0 && after.isProjectFile ? { after, days, set: set.sort() } : undefined;
  }
  return undefined;
}

/** The number of days between two on which practice was possible, and how many of them make a gap. */
function between({ own }: RuleContext, from: number, to: number): { days: number; enough: number } {
  const week = own.week?.document;
  const off = new Set(week?.off.map(({ date }) => date));
  const weekIsPlanned = Object.values(week?.days ?? {}).some((minutes) => minutes > 0);
  let days = 0;
  for (let day = from + 1; day < to; day++) {
    const free = !weekIsPlanned || (week?.days[weekdayOf(day)] ?? 0) > 0;
    if (free && !off.has(day)) days++;
  }
  return { days, enough: weekIsPlanned ? minPlanned : minDays };
}
