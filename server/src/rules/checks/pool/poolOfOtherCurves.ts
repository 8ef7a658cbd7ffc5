import { poolVersion } from '../../../model/pool/poolVersion.ts';
import { isOfOtherCurves } from '../../../queries/poolInUse.ts';
import { ownPools } from '../../../workspace/groupFiles.ts';
import { examplePool } from '../../engine/examplePool.ts';
import type { Rule } from '../../engine/rule.ts';

/** Pools whose numbers belong to other learning curves than the model has. */
export const poolOfOtherCurves: Rule = {
  code: 'pool-of-other-curves',
  severity: 'warning',
  title: 'A pool made for another version of the learning curves.',
  page: {
    why: 'The numbers of a pool say how well each curve of the model explains the counts. With other curves they mean nothing, so none of them is used.',
    way: 'Make the pool again from the logs, with `routewright pool`. Where it comes from a newer Routewright, get that one.',
    failing: { pool: examplePool({ model: poolVersion + 1 }) },
    passing: { pool: examplePool() },
  },
  check({ project }) {
    return ownPools(project).flatMap((pool) => {
      const { model } = pool.document;
      // Where no version can be read, that is reported already.
      if (model === undefined || !isOfOtherCurves(pool)) return [];
      const what =
        model > poolVersion
          ? `This pool was made by a newer Routewright: its numbers belong to version ${model} of the curves, and here is version ${poolVersion}. Nothing of it is used. Get the newer Routewright, or make the pool again with this one`
          : `This pool was made by an older Routewright: its numbers belong to version ${model} of the curves, and here is version ${poolVersion}. Nothing of it is used. Make it again`;
      const message = `${what}: \`routewright pool\` with the folders of the logs.`;
      return [{ uri: pool.uri, path: ['model'], part: 'value' as const, message }];
    });
  },
};
