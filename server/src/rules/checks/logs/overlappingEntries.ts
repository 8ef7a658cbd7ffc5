import { loggedEntries, type LoggedEntry } from '../../lookup/loggedEntries.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { formatRounded } from '../../lookup/words.ts';

/** Minutes by which written lengths may be off. */
const slack = 5;

/** Two entries of one runner that would have had to happen at the same time. */
export const overlappingEntries: Rule = {
  code: 'overlapping-entries',
  severity: 'warning',
  title: 'Sessions or runs of one runner that overlap in time.',
  page: {
    why: 'One of the two is dated wrongly, or lasted less than is written: minutes are then counted that nobody practised.',
    way: 'Correct a start, or the minutes of the earlier entry.',
    failing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25 }
      - { technique: lamp-hop, minutes: 25 }
  - start: 2026-10-05T19:45
    blocks:
      - { technique: rope-swing, minutes: 25 }
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25 }
      - { technique: lamp-hop, minutes: 25 }
  - start: 2026-10-05T20:45
    blocks:
      - { technique: rope-swing, minutes: 25 }
`,
    },
  },
  check(context) {
    const timed = loggedEntries(context)
      .filter((entry): entry is LoggedEntry & { from: number } => entry.from !== undefined)
      .sort((a, b) => a.from - b.from);
    const open = new Map<string, LoggedEntry & { from: number }>();
    return timed.flatMap((entry): RuleReport[] => {
      const before = open.get(entry.runner);
      const end = before && before.from + before.minutes;
      if (end === undefined || entry.from + entry.minutes > end) open.set(entry.runner, entry);
      // Two that began in the same minute are most likely one entry written twice: another rule looks for those.
      if (!before || end === undefined || entry.from > end - slack || entry.from === before.from) return [];
      const message = `This began while the ${before.kind} before it was still going on: that one takes ${formatRounded(before.minutes)} minutes, and this began ${formatRounded(entry.from - before.from)} after its start. Correct one of the starts, or the minutes.`;
      return [
        {
          ...entry.place,
          message,
          related: [{ ...before.place, message: `The earlier ${before.kind} began here.` }],
        },
      ];
    });
  },
};
