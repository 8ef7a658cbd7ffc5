import { pooledTechniques } from '../../../queries/poolInUse.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import { examplePool } from '../../engine/examplePool.ts';
import type { Rule, RuleReport } from '../../engine/rule.ts';
import { poolToCheck } from '../../lookup/poolToCheck.ts';

const route = `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4, was: [box-vault] }
`;

/** A technique that stands in a pool under its id of today and under a former one, or under two former ones. */
export const pooledUnderTwoIds: Rule = {
  code: 'pooled-under-two-ids',
  severity: 'warning',
  title: 'A technique that is in a pool under two of its ids.',
  page: {
    why: 'Nobody can tell whether the same runners are behind both entries, so only one of them is used: the one under the id of today.',
    way: 'Make the pool again from the logs: `routewright pool` knows former ids by the key `was` of the route.',
    failing: { route, pool: examplePool({ counted: { 'crate-vault': 3, 'box-vault': 3 } }) },
    passing: { route, pool: examplePool({ counted: { 'box-vault': 3 } }) },
  },
  check(context) {
    const { project } = context;
    const pool = poolToCheck(context);
    if (!pool) return [];
    const used = pooledTechniques(project, pool);
    return pool.document.techniques.flatMap((pooled): RuleReport[] => {
      const id = currentTechniqueId(project, pooled.id);
      const other = id === undefined ? undefined : used.get(id);
      if (id === undefined || !other || other === pooled) return [];
      const message = `\`${pooled.id}\` is called \`${id}\` now, and the pool speaks of it under \`${other.id}\`, too. Only that is used. Make the pool again with \`routewright pool\`.`;
      const related = [
        { uri: pool.uri, path: other.path, part: 'key' as const, message: 'This entry is used.' },
      ];
      return [{ uri: pool.uri, path: pooled.path, part: 'key', message, related }];
    });
  },
};
