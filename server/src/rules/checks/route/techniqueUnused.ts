import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** A technique that no segment uses, and that nothing used needs. */
export const techniqueUnused: Rule = {
  code: 'technique-unused',
  severity: 'hint',
  title: 'A technique that no segment uses.',
  page: {
    why: 'A technique that no segment uses saves nothing in this route, so that no time is worth spending on it.',
    way: 'Add it to the segment where it is tried, or delete it.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
  wall-kick: { difficulty: 4, saves: 2.4, loses: 1.2 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault, wall-kick] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
  wall-kick: { difficulty: 4, saves: 2.4, loses: 1.2 }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { techniques, used, isComplete, segments } = declaredNames(context);
    // A file of techniques alone is there for others to extend.
    if (!isComplete || segments.size === 0) return [];
    const { uri, document } = project.route;
    const { entries } = routeIndexOf(context);
    const from = [...techniques.revision, ...used.revision];
    const unused = entries.getOrCompute(
      'unused',
      from,
      () => new Set([...techniques].filter((id) => !used.has(id))),
    );
    if (unused.size === 0) return [];
    const wanted = new Set(used);
    const queue = [...used];
    for (let id = queue.pop(); id !== undefined; id = queue.pop()) {
      for (const need of project.techniques.get(id)?.needs ?? []) {
        if (wanted.has(need.id)) continue;
        wanted.add(need.id);
        queue.push(need.id);
      }
    }
    return document.techniques.flatMap(({ id, path }): RuleReport[] => {
      if (!unused.has(id) || wanted.has(id)) return [];
      const message = `No segment of this route uses \`${id}\`, so that learning it would save nothing here. Add it under a segment's \`techniques\`, or leave it for a route that extends this one.`;
      return [{ uri, path, part: 'key', message }];
    });
  },
};
