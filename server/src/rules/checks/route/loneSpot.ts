import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { replacementFix, NameSuggester } from '../../lookup/nameSuggester.ts';

/** A spot with one use only, spelled like another of its segment. */
export const loneSpot: Rule = {
  code: 'lone-spot',
  severity: 'hint',
  title: 'A spot that only one use has, spelled like another one.',
  page: {
    why: 'Uses with the same spot exclude each other. Where the name is a mistake, two uses that exclude each other are both counted.',
    way: 'Give both uses the same spot. The fix does so where several uses have the other spelling.',
    failing: {
      route: `segments:
  - id: harbor
    time: 1:32.4
    techniques:
      - { use: gate-roll, spot: gate }
      - { use: lamp-clip, spot: gate }
      - { use: crate-vault, spot: gaet }
techniques:
  gate-roll: { difficulty: 3, saves: 3.5, loses: 2 }
  lamp-clip: { difficulty: 6, saves: 9, loses: 5 }
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
    passing: {
      route: `segments:
  - id: harbor
    time: 1:32.4
    techniques:
      - { use: gate-roll, spot: gate }
      - { use: lamp-clip, spot: gate }
      - { use: crate-vault, spot: quay }
techniques:
  gate-roll: { difficulty: 3, saves: 3.5, loses: 2 }
  lamp-clip: { difficulty: 6, saves: 9, loses: 5 }
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
  },
  checkSegment({ id, uses }, { uri }) {
    const times = new Map<string, number>();
    for (const { spot } of uses) if (spot !== undefined) times.set(spot, (times.get(spot) ?? 0) + 1);
    // Most segments have one spot: nothing is spelled like it.
    if (times.size < 2) return [];
    const suggester = new NameSuggester(new Set(times.keys()));
    return uses.flatMap(({ spot, path }): RuleReport[] => {
      if (spot === undefined || times.get(spot)! > 1) return [];
      const meant = suggester.suggest(spot);
      if (meant === undefined) return [];
      const place: SourceRef = { uri, path: [...path, 'spot'], part: 'value' };
      const message = `No other use in \`${id}\` has the spot \`${spot}\`, so that it excludes nothing. Did you mean \`${meant}\`?`;
      return [{ ...place, message, ...(times.get(meant)! > 1 && replacementFix(place, meant)) }];
    });
  },
};
