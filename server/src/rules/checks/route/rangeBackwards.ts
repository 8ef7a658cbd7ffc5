import type { RuleReport, Rule } from '../../engine/rule.ts';

/** `16..9`: a range is written from low to high. */
export const rangeBackwards: Rule = {
  code: 'range-backwards',
  severity: 'error',
  title: 'A range that goes from high to low.',
  page: {
    why: 'A range from high to low is not read, and the technique is then worth nothing.',
    way: 'Write the smaller number first. The fix swaps the two.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 3..1 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1..3 }
`,
    },
  },
  check({ project: { route } }) {
    const { uri, document } = route;
    return document.backwards.map(({ path, low, high }): RuleReport => {
      const place = { uri, path, part: 'value' } as const;
      const text = `${high}..${low}`;
      const message = `A range goes from low to high: write \`${text}\`. Until then this value is not read.`;
      return { ...place, message, fix: { ...place, title: `Change to \`${text}\``, text } };
    });
  },
};
