import type { Rule } from '../../engine/rule.ts';

/** Hours of practice from which a technique is a project of months. */
const maxHours = 50;
/** Attempts after which four in five typically land, by difficulty, as the scale is described in the route's schema. */
const scale = [
  { difficulty: 1, attempts: 50 },
  { difficulty: 5, attempts: 550 },
  { difficulty: 10, attempts: 9000 },
] as const;

/** A technique whose difficulty and cycle together mean very many hours. */
export const manyHours: Rule = {
  code: 'many-hours',
  severity: 'hint',
  title: 'Difficulty and cycle that together mean 50 hours of practice or more.',
  page: {
    why: 'Hours are attempts times the cycle. On a hard technique each second of reload costs hours.',
    way: 'Look for a place to reload nearer to the hard part, or practise a part of it first.',
    failing: {
      route: `segments:
  - { id: last-lamp, time: 2:49, techniques: [lamp-throw] }
techniques:
  lamp-throw: { difficulty: 10, saves: 21, loses: 12, practice: { attempt: 16, reload: 13 } }
`,
    },
    passing: {
      route: `segments:
  - { id: last-lamp, time: 2:49, techniques: [lamp-throw] }
techniques:
  lamp-throw: { difficulty: 10, saves: 21, loses: 12, practice: { attempt: 8, reload: 2 } }
`,
    },
  },
  checkTechnique({ id, path, difficulty, practice }, { uri }) {
    const { attempt, reload } = practice;
    const hours = (attemptsAt(difficulty) * (attempt + reload)) / 3600;
    if (hours < maxHours) return [];
    const message = `At difficulty ${difficulty} and a cycle of ${Number((attempt + reload).toFixed(1))} s, \`${id}\` typically takes ${tens(hours / 2)} to ${tens(hours * 2)} hours until it mostly lands. A shorter way back saves hours: look for a place to reload nearer to the hard part, or practise a part of it first.`;
    return [{ uri: uri, path: [...path, 'difficulty'], part: 'value', message }];
  },
};

/** Between the points of the scale attempts grow by the same factor each step. */
function attemptsAt(difficulty: number): number {
  const above = scale.find((point) => point.difficulty >= difficulty) ?? scale[2];
  const below = scale.findLast((point) => point.difficulty <= difficulty) ?? scale[0];
  if (above === below) return above.attempts;
  const share = (difficulty - below.difficulty) / (above.difficulty - below.difficulty);
  return below.attempts * (above.attempts / below.attempts) ** share;
}

function tens(hours: number): number {
  return 10 * Math.max(1, Math.round(hours / 10));
}
