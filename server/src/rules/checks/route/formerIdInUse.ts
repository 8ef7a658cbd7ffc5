import type { Technique } from '../../../files/documents/documents.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { RemovalFixer } from '../../lookup/removalFixer.ts';

/** A former id that leads to more than one technique. */
export const formerIdInUse: Rule = {
  code: 'former-id-in-use',
  severity: 'warning',
  title: 'A former id that another technique has, or had.',
  page: {
    why: 'Old logs under this id could belong to either technique. They count for the one that has the id today, or for the first that had it.',
    way: 'Keep the former id on only one of the two. The fix takes it out where another technique has it today, which changes nothing.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, crate-hop] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4, was: [crate-hop, box-vault] }
  crate-hop: { difficulty: 2, saves: 1.2, loses: 0.5 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, crate-hop] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4, was: [box-vault] }
  crate-hop: { difficulty: 2, saves: 1.2, loses: 0.5 }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { uri, document, reading } = project.route;
    const remover = new RemovalFixer(reading);
    const first = new Map<string, string>();
    const renamed = routeIndexOf(context).entries.collect(document.techniques, renamedOnce);
    return renamed.flatMap(({ id, was, path }) =>
      was.flatMap((former): RuleReport[] => {
        const place: SourceRef = { uri, path: former.path, part: 'value' };
        const today = project.techniques.has(former.id);
        const other = today ? former.id : first.get(former.id);
        if (other === undefined) first.set(former.id, id);
        if (other === undefined || (other === id && !today)) return [];
        const message = today
          ? former.id === id
            ? `\`${id}\` has this id today, so that it is not a former id. Take it out.`
            : `\`${former.id}\` is another technique today, and old logs under this id count for that one. Take it out here, or give the other one a new id.`
          : `\`${other}\` had the id \`${former.id}\` too, and old logs count for that one. Keep it on only one of the two.`;
        const whole = was.length === 1 ? [...path, 'was'] : former.path;
        const fix = today ? remover.removalFix(place, whole, `Take \`${former.id}\` out`) : {};
        return [{ ...place, message, ...fix }];
      }),
    );
  },
};

const renamedOnce = (technique: Technique): Technique[] => (technique.was.length > 0 ? [technique] : []);
