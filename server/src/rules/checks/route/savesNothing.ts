import type { Technique } from '../../../files/documents/documents.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** A technique that is used but saves nothing, takes no item and is needed by no other. */
export const savesNothing: Rule = {
  code: 'saves-nothing',
  severity: 'hint',
  title: 'A technique that saves nothing and that nothing needs.',
  needsWholeRoute: true,
  page: {
    why: 'Time spent on it is lost: it saves no seconds, takes no item and opens no other technique.',
    way: 'Write what it saves, or what it is for: `take` on a use, or `needs` on what it opens.',
    failing: {
      route: `segments:
  - { id: net-lofts, time: 2:50, techniques: [wall-kick] }
techniques:
  wall-kick: { difficulty: 4, saves: 0, loses: 1.2 }
`,
    },
    passing: {
      route: `segments:
  - { id: net-lofts, time: 2:50, techniques: [wall-kick, chimney-kick] }
techniques:
  wall-kick: { difficulty: 4, saves: 0, loses: 1.2 }
  chimney-kick: { difficulty: 6, saves: 6.8, loses: 4, needs: [wall-kick] }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { uri, document } = project.route;
    const { entries } = routeIndexOf(context);
    const nothing = entries.collect(document.techniques, thatSavesNothing);
    if (nothing.length === 0 || !declaredNames(context).isComplete) return [];
    const ids = new Set(nothing.map(({ id }) => id));
    const worth = new Set<string>();
    for (const { uses } of project.segments)
      for (const { technique, saves, take } of uses) {
        if (!ids.has(technique)) continue;
        const seconds = (saves ?? project.techniques.get(technique)?.saves)?.mean ?? 0;
        if (seconds > 0 || take !== undefined) worth.add(technique);
      }
    for (const { needs } of project.techniques.values()) for (const { id } of needs) worth.add(id);
    const { used } = declaredNames(context);
    return nothing.flatMap(({ id, path }): RuleReport[] => {
      if (worth.has(id) || !used.has(id)) return [];
      const message = `\`${id}\` saves nothing, takes nothing and opens nothing, so that no practice of it pays. Write what it saves, or what needs it.`;
      return [{ uri, path: [...path, 'saves'], part: 'value', message }];
    });
  },
};

function thatSavesNothing(technique: Technique): Technique[] {
  return (technique.saves?.mean ?? 0) <= 0 ? [technique] : [];
}
