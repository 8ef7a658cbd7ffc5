import type { Segment, Use } from '../../../files/documents/documents.ts';
import { ordinals, useName } from '../../../files/schema/ids.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** Two uses of a technique that no id tells apart: a log could mean either. */
export const duplicateUse: Rule = {
  code: 'duplicate-use',
  severity: 'error',
  title: 'Two uses of one technique that no id tells apart.',
  needsWholeRoute: true,
  page: {
    why: 'Two uses may save and lose differently. Without an id a log cannot say which of them was tried.',
    way: 'Give all but the first use an `id`. The fix takes the next free of `second`, `third` and so on.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, { use: crate-vault, id: second }] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
  },
  check(context) {
    const { uri, document } = context.project.route;
    if (!routeIndexOf(context).entries.countNames(document.segments, namesIn).hasDuplicates) return [];
    const uses = document.segments.flatMap((segment) => segment.uses);
    const names = new Set(uses.map(nameOf));
    const seen = new Map<string, Use>();
    const found: RuleReport[] = [];
    for (const use of uses) {
      const name = nameOf(use);
      const first = seen.get(name);
      if (!first) {
        seen.set(name, use);
        continue;
      }
      const place = placeOf(uri, use);
      const free = ordinals.find((id) => !names.has(useName(use.technique, id)));
      const id = free ?? 'again';
      // The name is in use from now on, so that each fix in a file gives another one.
      names.add(useName(use.technique, id));
      found.push({
        ...place,
        message: `\`${name}\` is used above already. Give this use an \`id\` of its own, such as \`${id}\`: logs then say \`${useName(use.technique, id)}\`.`,
        related: [{ ...placeOf(uri, first), message: `\`${name}\` is used here.` }],
        ...(use.short &&
          free !== undefined && {
            fix: {
              ...place,
              title: `Give this use the id \`${id}\``,
              text: `{ use: ${use.technique}, id: ${id} }`,
            },
          }),
      });
    }
    return found;
  },
};

const namesIn = ({ uses }: Segment): string[] => uses.map(nameOf);

function nameOf({ technique, id }: Use): string {
  return useName(technique, id);
}

function placeOf(uri: string, use: Use): SourceRef {
  const path = use.short ? use.path : [...use.path, use.id === undefined ? 'use' : 'id'];
  return { uri, path, part: 'value' };
}
