import type { Rule } from '../../engine/rule.ts';

/** Chance to get through one segment below which most likely the chance to die was written. */
const minChance = 0.5;

/** A chance to get through a segment so low that hardly any run would be finished. */
export const surviveUnlikely: Rule = {
  code: 'survive-unlikely',
  severity: 'warning',
  title: 'A chance to get through a segment that is so low that most runs end there.',
  page: {
    why: '`survive` is the chance to get through, techniques apart. Where the chance to die was written, hardly any run would be finished, and nothing after the segment seems worth learning.',
    way: 'Write the chance to get through: 0.97 where three runs in a hundred end there.',
    failing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, survive: 0.03 }\n' },
    passing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, survive: 0.97 }\n' },
  },
  checkSegment({ id, survive, path }, { uri }) {
    if (survive >= minChance) return [];
    const other = Number((1 - survive).toFixed(4));
    const message = `With ${survive} only ${Number((100 * survive).toFixed(1))} % of the runs would get through \`${id}\`, with or without its techniques. This is the chance to get through: write ${other} if ${survive} is the chance to die.`;
    return [{ uri: uri, path: [...path, 'survive'], part: 'value', message }];
  },
};
