import {
  groupByTechnique,
  minutesOf,
  recentSessions,
  blockTechniqueRef,
  type RecentBlock,
} from '../../lookup/recentPractice.ts';
import type { ForecastRule, RuleReport, RuleContext } from '../../engine/rule.ts';
import { formatRounded } from '../../lookup/words.ts';

/** Practice within so many days back counts as going on. */
const days = 7;
const minBlocks = 2;
/** Landing rate in practice, at the low end of its margin, above which blocks change next to nothing. */
const mostlyLands = 0.9;

/** A technique that is practised on although it is in the run and lands nearly always. */
export const drilledPastUse: ForecastRule = {
  code: 'drilled-past-use',
  severity: 'hint',
  title: 'A technique practised on although it lands nearly always.',
  page: {
    why: 'Runs are enough to keep a competent technique up. Further blocks on it take the time of a technique that can still save seconds.',
    way: 'Take it out of the practice, try it in runs, and look at `rank` for what comes next.',
    failing: {
      practice: `sessions:
  - { start: 2026-10-01T19:00, blocks: [{ technique: lamp-hop, minutes: 25, landed: [330, 340] }] }
  - { start: 2026-10-02T19:00, blocks: [{ technique: lamp-hop, minutes: 25, landed: [338, 342] }] }
  - { start: 2026-10-04T19:00, blocks: [{ technique: lamp-hop, minutes: 25, landed: [341, 344] }] }
`,
    },
    passing: {
      practice: `sessions:
  - { start: 2026-10-01T19:00, blocks: [{ technique: lamp-hop, minutes: 25, landed: [110, 340] }] }
  - { start: 2026-10-02T19:00, blocks: [{ technique: lamp-hop, minutes: 25, landed: [140, 342] }] }
  - { start: 2026-10-04T19:00, blocks: [{ technique: lamp-hop, minutes: 25, landed: [170, 344] }] }
`,
    },
  },
  techniqueIds: (context) => practised(context).keys(),
  check(context, assessment) {
    return [...practised(context)].flatMap(([id, blocks]): RuleReport[] => {
      const now = assessment.get(id);
      if (now?.standing.kind !== 'in-run' || now.practiceNow.low < mostlyLands) return [];
      // What was practised before it was competent was no practice past its use.
      const since = now.standing.since ?? -Infinity;
      const later = blocks.filter(({ day }) => day > since);
      const last = later.at(-1);
      if (last === undefined || later.length < minBlocks || !last.isProjectFile) return [];
      const minutes = minutesOf(later);
      const message = `\`${id}\` is in the run. It lands about ${Math.round(100 * now.practiceNow.mean)} % of the time in practice (${Math.round(100 * now.practiceNow.low)} % or more), and had ${formatRounded(minutes)} minutes in the last ${days} days after it was competent. Runs are enough to keep it up: the time is better spent on a technique that can still save seconds.`;
      return [{ ...blockTechniqueRef(last), message }];
    });
  },
};

function practised(context: RuleContext): Map<string, RecentBlock[]> {
  const blocks = groupByTechnique(recentSessions(context, days));
  return new Map([...blocks].filter(([, list]) => list.length >= minBlocks));
}
