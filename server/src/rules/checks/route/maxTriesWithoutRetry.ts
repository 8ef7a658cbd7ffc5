import type { Segment, Use } from '../../../files/documents/documents.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { RemovalFixer } from '../../lookup/removalFixer.ts';

/** A number of tries on a use that may be tried once only. */
export const maxTriesWithoutRetry: Rule = {
  code: 'max-tries-without-retry',
  severity: 'warning',
  title: 'A number of tries without the seconds that each costs.',
  page: {
    why: 'Without `retry` a use is tried once, and `max_tries` has no effect: the technique then seems to land more rarely than it would.',
    way: 'Write `retry` with the seconds of a further try. The fix takes `max_tries` out, which changes nothing.',
    failing: {
      route: `segments:
  - { id: rope-yard, time: 2:08, techniques: [{ use: rope-swing, max_tries: 3 }] }
techniques:
  rope-swing: { difficulty: 4, saves: 7.5, loses: 2.2 }
`,
    },
    passing: {
      route: `segments:
  - { id: rope-yard, time: 2:08, techniques: [{ use: rope-swing, retry: 3, max_tries: 3 }] }
techniques:
  rope-swing: { difficulty: 4, saves: 7.5, loses: 2.2 }
`,
    },
  },
  check(context) {
    const { uri, document, reading } = context.project.route;
    const remover = new RemovalFixer(reading);
    return routeIndexOf(context)
      .entries.collect(document.segments, triedOnce)
      .map(({ technique, path }): RuleReport => {
        const place: SourceRef = { uri, path: [...path, 'max_tries'], part: 'key' };
        const message = `\`${technique}\` is tried once here, since \`retry\` is not written. Add \`retry\` with the seconds that a further try costs, or take \`max_tries\` out.`;
        return { ...place, message, ...remover.removalFix(place, place.path, 'Take `max_tries` out') };
      });
  },
};

function triedOnce({ uses }: Segment): Use[] {
  return uses.filter(({ maxTries, retry }) => maxTries !== undefined && retry === undefined);
}
