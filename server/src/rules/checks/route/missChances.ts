import type { WithPath, Effect } from '../../../files/documents/documents.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Three thirds written with two digits add up to 0.99. */
const tolerance = 0.0101;

/** Shares of the ways to miss that do not make a whole. */
export const missChances: Rule = {
  code: 'miss-chances',
  severity: 'warning',
  title: 'Ways to miss whose chances do not add up to 1.',
  page: {
    why: 'Each way to miss has a share of the misses. Where the shares do not add up to 1, one of them weighs more or less than was meant.',
    way: 'Correct the chances, or add the way that is missing.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, miss: [{ chance: 0.5, loses: 1 }, { chance: 0.3, ends_run: true }] }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, miss: [{ chance: 0.7, loses: 1 }, { chance: 0.3, ends_run: true }] }
`,
    },
  },
  checkSegment: ({ uses }, { uri }) => uses.flatMap((use) => foundIn(use, uri)),
  checkTechnique: (technique, { uri }) => foundIn(technique, uri),
};

function foundIn({ miss, path }: Effect & WithPath, uri: string): RuleReport[] {
  const sum = (miss ?? []).reduce((total, { chance }) => total + chance, 0);
  if (!miss || Math.abs(sum - 1) <= tolerance) return [];
  const message = `The chances of these ways to miss add up to ${Number(sum.toFixed(3))}, not to 1. Each is a share of the misses: correct them; until then they are scaled to 1.`;
  return [{ uri, path: [...path, 'miss'], part: 'key', message }];
}
