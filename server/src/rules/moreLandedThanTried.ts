import type { Found, Rule } from './rule.ts';
import { talliesIn } from './tallies.ts';

/** `[61, 45]`: more landed than were tried. The two are not swapped by a fix, since either may be the slip. */
export const moreLandedThanTried: Rule = {
  code: 'more-landed-than-tried',
  severity: 'error',
  title: 'More attempts landed than were made.',
  check({ project }) {
    const found: Found[] = [];
    for (const { landed, tries, uri, path, part } of talliesIn(project)) {
      if (landed <= tries) continue;
      const message = `${landed} landed of ${tries} tries cannot be. Counts are \`[landed, tries]\`, landed first; until this is corrected they are not counted.`;
      found.push({ uri, path, part, message });
    }
    return found;
  },
};
