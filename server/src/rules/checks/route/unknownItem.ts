import type { RuleReport, Rule } from '../../engine/rule.ts';
import { replacementFix, NameSuggester } from '../../lookup/nameSuggester.ts';
import { itemUses } from '../../lookup/itemUses.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** A use that needs an item which no use takes: it could never be tried. */
export const unknownItem: Rule = {
  code: 'unknown-item',
  severity: 'error',
  title: 'A use with an item that is taken nowhere.',
  page: {
    why: 'A use with an item that nothing takes could never be tried, so that its technique looks worthless.',
    way: 'Correct the item, or write `take` on the use that picks it up.',
    failing: {
      route: `segments:
  - id: oil-cellars
    time: 1:56
    techniques: [{ use: oil-pickup, take: oil, costs: 7 }]
  - id: salt-works
    time: 3:15
    techniques:
      - { use: oil-slick, with: oli }
      - { use: oil-slick, id: second, with: oil }
techniques:
  oil-pickup: { difficulty: 2, saves: 0, loses: 2 }
  oil-slick: { difficulty: 5, saves: 14, loses: 3 }
`,
    },
    passing: {
      route: `segments:
  - id: oil-cellars
    time: 1:56
    techniques: [{ use: oil-pickup, take: oil, costs: 7 }]
  - id: salt-works
    time: 3:15
    techniques: [{ use: oil-slick, with: oil }]
techniques:
  oil-pickup: { difficulty: 2, saves: 0, loses: 2 }
  oil-slick: { difficulty: 5, saves: 14, loses: 3 }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { uri, reading } = project.route;
    const { items, isComplete } = declaredNames(context);
    if (!isComplete) return [];
    const suggester = new NameSuggester(items);
    return itemUses(context).flatMap((use): RuleReport[] => {
      if (use.with === undefined || items.has(use.with)) return [];
      const place = { uri, path: [...use.path, 'with'], part: 'value' } as const;
      const meant = suggester.suggest(use.with);
      const way =
        meant === undefined
          ? `Write \`take: ${use.with}\` on the use that picks it up, or remove \`with\`.`
          : `Did you mean \`${meant}\`?`;
      return [
        {
          ...place,
          message: `No use in this route takes \`${use.with}\`. ${way}`,
          ...(meant !== undefined && replacementFix(place, meant, reading.tree)),
        },
      ];
    });
  },
};
