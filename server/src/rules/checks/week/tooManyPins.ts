import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Techniques that a practice set holds at most: four to six in two hours is common practice among runners. */
const maxPins = 6;

/** More pinned techniques than a practice set, or the week, has room for. */
export const tooManyPins: Rule = {
  code: 'too-many-pins',
  severity: 'warning',
  title: 'More pinned techniques than the week has room for.',
  page: {
    why: 'Pinned techniques stay in the practice even when the ranking puts others first. With too many of them each gets a block too rarely to be learned.',
    way: 'Pin the few that matter, and let the plan choose the others.',
    failing: { week: 'days: { mon: 50 }\npin: [crate-vault, rope-swing, lamp-hop]\n' },
    passing: { week: 'days: { mon: 50, wed: 50 }\npin: [crate-vault]\n' },
  },
  check({ project }) {
    return project.weeks.flatMap(({ uri, document }): RuleReport[] => {
      const { pin, days, block } = document;
      const minutes = Object.values(days);
      const blocks = minutes.reduce((sum, day) => sum + Math.floor(day / block), 0);
      const room = minutes.some((day) => day > 0) ? Math.min(maxPins, blocks) : maxPins;
      if (pin.length <= room) return [];
      const why =
        room < maxPins
          ? `the week has room for ${blocks} ${blocks === 1 ? 'block' : 'blocks'}`
          : `a practice set holds four to six techniques`;
      const message = `${pin.length} techniques are pinned, and ${why}. Pin the few that matter most, so that each gets its blocks.`;
      return [{ uri, path: ['pin'], part: 'key', message }];
    });
  },
};
