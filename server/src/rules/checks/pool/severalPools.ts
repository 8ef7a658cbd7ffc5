import { isOfOtherCurves } from '../../../queries/poolInUse.ts';
import { shellWord } from '../../../text/shellWord.ts';
import { fileName } from '../../../workspace/fileName.ts';
import { ownPools } from '../../../workspace/groupFiles.ts';
import { examplePool } from '../../engine/examplePool.ts';
import type { Rule } from '../../engine/rule.ts';
import { poolToCheck } from '../../lookup/poolToCheck.ts';

const route = 'route: example.route.yaml\n';

/** So many pools are named in the command that merges them. */
const maxNamed = 5;

/** A second pool for one route: only the pool of most runners is used. */
export const severalPools: Rule = {
  code: 'several-pools',
  severity: 'warning',
  title: 'A second pool for the same route, which is not used.',
  page: {
    why: 'The same runner may be in both, and nobody may count twice. So only the pool with most runners is used, and what the other runners found out is missing.',
    way: 'Merge them into one: `routewright pool a.pool.yaml b.pool.yaml` counts every runner once. Then remove the others.',
    failing: {
      'example.pool.yaml': route + examplePool(),
      'other.pool.yaml':
        route + examplePool({ runners: ['"b5d0f7216c3a"', '"e1946ac8d05f"', '"f20b9c7e3d18"'] }),
    },
    passing: { 'example.pool.yaml': route + examplePool() },
  },
  check(context) {
    const used = poolToCheck(context);
    if (!used) return [];
    const all = ownPools(context.project).filter((pool) => !isOfOtherCurves(pool));
    const names = all.map(({ uri }) => shellWord(fileName(uri), 'linux')).sort();
    const files = names.length > maxNamed ? '*.pool.yaml' : names.join(' ');
    const merge = `Merge them, so that each runner counts once: \`routewright pool ${files}\`.`;
    const place = { path: ['route'], part: 'value' } as const;
    const related = [{ uri: used.uri, ...place, message: 'This pool is used.' }];
    const message = `This pool is not used: for this route \`${fileName(used.uri)}\` is. ${merge}`;
    return all.filter((pool) => pool !== used).map(({ uri }) => ({ uri, ...place, message, related }));
  },
};
