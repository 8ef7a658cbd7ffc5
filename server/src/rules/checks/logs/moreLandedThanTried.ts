import type { RuleReport, Rule } from '../../engine/rule.ts';
import { attemptCountsIn } from '../../lookup/attemptCounts.ts';

/** `[61, 45]`: more landed than were tried. The two are not swapped by a fix, since either may be wrong. */
export const moreLandedThanTried: Rule = {
  code: 'more-landed-than-tried',
  severity: 'error',
  title: 'More attempts landed than were made.',
  page: {
    why: 'Nobody lands more than they try. Such a count is left out of every estimate.',
    way: 'Counts are `[landed, tries]`: correct the wrong number.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [104, 61] }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25, landed: [61, 104] }]
`,
    },
  },
  check({ project }) {
    const found: RuleReport[] = [];
    for (const { landed, tries, uri, path, part } of attemptCountsIn(project)) {
      if (landed <= tries) continue;
      const message = `${landed} landed of ${tries} tries is impossible. Counts are \`[landed, tries]\`, landed first; this one is not counted until it is corrected.`;
      found.push({ uri, path, part, message });
    }
    return found;
  },
};
