import type { Use } from '../../../files/documents/documents.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { itemUses } from '../../lookup/itemUses.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** A use with an item that the run picks up only afterwards. */
export const itemTakenTooLate: Rule = {
  code: 'item-taken-too-late',
  severity: 'error',
  title: 'A use with an item that is taken only later.',
  page: {
    why: 'The run does not have the item yet when it comes there: the use can never be tried, and its technique looks worthless.',
    way: 'Put the use that takes the item before it, or correct which item is meant.',
    failing: {
      route: `segments:
  - id: salt-works
    time: 3:15
    techniques: [{ use: oil-slick, with: oil }]
  - id: oil-cellars
    time: 1:56
    techniques: [{ use: oil-pickup, take: oil, costs: 7 }]
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
    const { uri } = context.project.route;
    if (!declaredNames(context).isComplete) return [];
    const uses = itemUses(context);
    const first = new Map<string, { readonly at: number; readonly use: Use }>();
    for (const [at, use] of uses.entries())
      if (use.take !== undefined && !first.has(use.take)) first.set(use.take, { at, use });
    return uses.flatMap((use, at): RuleReport[] => {
      const taken = use.with === undefined ? undefined : first.get(use.with);
      if (!taken || taken.at < at) return [];
      const message = `\`${use.with}\` is taken only ${taken.at === at ? 'here' : 'later in the run'}, so that this can never be tried. Move the use that takes it before this one, or correct \`with\`.`;
      const place = { uri, path: [...taken.use.path, 'take'], part: 'value' as const };
      return [
        {
          uri,
          path: [...use.path, 'with'],
          part: 'value',
          message,
          ...(taken.at !== at && { related: [{ ...place, message: 'It is taken here.' }] }),
        },
      ];
    });
  },
};
