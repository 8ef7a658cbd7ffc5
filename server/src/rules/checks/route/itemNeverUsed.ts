import type { RuleReport, Rule } from '../../engine/rule.ts';
import { itemUses } from '../../lookup/itemUses.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** An item that is picked up and that nothing needs. */
export const itemNeverUsed: Rule = {
  code: 'item-never-used',
  severity: 'warning',
  title: 'An item that is taken but never used.',
  needsWholeRoute: true,
  page: {
    why: 'Picking it up costs time and brings nothing, so that it counts against the run.',
    way: 'Write `with` on the use that needs the item, or take `take` and `costs` out.',
    failing: {
      route: `segments:
  - id: oil-cellars
    time: 1:56
    techniques: [{ use: ledge-drop, take: oil, costs: 7 }]
techniques:
  ledge-drop: { difficulty: 2, saves: 1.5, loses: 0.6 }
`,
    },
    passing: {
      route: `segments:
  - id: oil-cellars
    time: 1:56
    techniques: [{ use: ledge-drop, take: oil, costs: 7 }]
  - id: salt-works
    time: 3:15
    techniques: [{ use: oil-slick, with: oil }]
techniques:
  ledge-drop: { difficulty: 2, saves: 1.5, loses: 0.6 }
  oil-slick: { difficulty: 5, saves: 14, loses: 3 }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { uri } = project.route;
    const { isComplete, items } = declaredNames(context);
    if (!isComplete) return [];
    const uses = itemUses(context);
    const wanted = new Set(uses.map((use) => use.with));
    // An item that is needed and taken nowhere may be this one, misspelled: that is reported where it is needed.
    if ([...wanted].some((item) => item !== undefined && !items.has(item))) return [];
    return uses.flatMap(({ take, costs, path }): RuleReport[] => {
      if (take === undefined || wanted.has(take)) return [];
      const cost = costs > 0 ? ` and costs ${costs} s` : '';
      const message = `\`${take}\` is taken here${cost}, and no use needs it. Write \`with: ${take}\` on the use that needs it, or take it out here.`;
      return [{ uri, path: [...path, 'take'], part: 'value', message }];
    });
  },
};
