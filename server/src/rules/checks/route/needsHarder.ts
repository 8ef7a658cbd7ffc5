import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Steps of the scale by which a technique may be easier than what it builds on. */
const steps = 2;

/** A technique that builds on a much harder one. */
export const needsHarder: Rule = {
  code: 'needs-harder',
  severity: 'hint',
  title: 'A technique that needs a much harder one.',
  page: {
    why: 'What builds on a technique is seldom easier. A difficulty that is too low makes both look quicker to learn than they are.',
    way: 'Look at both difficulties, or remove the need if there is none.',
    failing: {
      route: `segments:
  - { id: last-lamp, time: 2:49, techniques: [lamp-throw, lamp-clip] }
techniques:
  lamp-clip: { difficulty: 8, saves: 9, loses: 5 }
  lamp-throw: { difficulty: 4, saves: 21, loses: 12, needs: [lamp-clip] }
`,
    },
    passing: {
      route: `segments:
  - { id: last-lamp, time: 2:49, techniques: [lamp-throw, lamp-clip] }
techniques:
  lamp-clip: { difficulty: 6, saves: 9, loses: 5 }
  lamp-throw: { difficulty: 9, saves: 21, loses: 12, needs: [lamp-clip] }
`,
    },
  },
  checkTechnique({ id, difficulty, needs }, context) {
    const { uri } = context;
    return needs.flatMap((need): RuleReport[] => {
      const harder = context.technique(need.id);
      if (!harder || harder.difficulty < difficulty + steps) return [];
      const message = `\`${id}\` has difficulty ${difficulty} and needs \`${need.id}\`, which has ${harder.difficulty}. What builds on a technique is seldom easier: look at both numbers, or remove the need.`;
      const place = { uri: harder.uri, path: [...harder.path, 'difficulty'], part: 'value' as const };
      return [
        {
          uri,
          path: need.path,
          part: 'value',
          message,
          related: [{ ...place, message: 'Its difficulty is here.' }],
        },
      ];
    });
  },
};
