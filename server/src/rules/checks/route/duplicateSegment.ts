import type { Segment } from '../../../files/documents/documents.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Two segments with one id: logs could mean either. */
export const duplicateSegment: Rule = {
  code: 'duplicate-segment',
  severity: 'error',
  title: 'A segment id that two segments have.',
  page: {
    why: 'Logs name a segment by its id: where two segments have the same id, a time could belong to either.',
    way: 'Rename one of the two.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4 }
  - { id: harbor, time: 2:08 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4 }
  - { id: harbor-again, time: 2:08 }
`,
    },
  },
  check(context) {
    const { uri, document } = context.project.route;
    if (!routeIndexOf(context).entries.countNames(document.segments, idOf).hasDuplicates) return [];
    const seen = new Map<string, Segment>();
    const found: RuleReport[] = [];
    for (const segment of document.segments) {
      const first = seen.get(segment.id);
      if (!first) {
        seen.set(segment.id, segment);
        continue;
      }
      found.push({
        uri,
        path: [...segment.path, 'id'],
        part: 'value',
        message: `A segment above has the id \`${segment.id}\` already. Rename one of the two, so that logs can tell them apart.`,
        related: [
          {
            uri,
            path: [...first.path, 'id'],
            part: 'value',
            message: `The first \`${segment.id}\` is here.`,
          },
        ],
      });
    }
    return found;
  },
};

const idOf = ({ id }: Segment): string[] => [id];
