import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A backup that cannot bring anything after a miss. */
export const uselessBackup: Rule = {
  code: 'useless-backup',
  severity: 'warning',
  title: 'A backup that is the same technique, or saves nothing.',
  page: {
    why: 'A backup is tried at once after a miss. One that saves nothing can only lose more; the same technique again is a retry, and has a price in seconds.',
    way: 'Name a technique that saves something there, or write `retry` with the seconds that a further try costs.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [{ use: crate-vault, backup: crate-vault }] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [{ use: crate-vault, retry: 2, max_tries: 3 }] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
  },
  checkSegment({ uses }, context) {
    const { uri } = context;
    return uses.flatMap(({ technique, backup, path }): RuleReport[] => {
      const other = backup === undefined ? undefined : context.technique(backup);
      if (!other) return [];
      const place = { uri, path: [...path, 'backup'], part: 'value' } as const;
      if (backup === technique) {
        const message = `\`${technique}\` is its own backup. Trying it once more is a retry: write \`retry\` with the seconds that a further try costs.`;
        return [{ ...place, message }];
      }
      if ((other.saves?.mean ?? 0) > 0) return [];
      const message = `\`${backup}\` saves nothing, so that trying it after a miss can only lose more. Name one that saves something here, or take \`backup\` out.`;
      return [{ ...place, message }];
    });
  },
};
