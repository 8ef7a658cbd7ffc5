import { overstatedTechniques } from '../../../queries/overstatedInPool.ts';
import { formatCount } from '../../../text/format.ts';
import { examplePool } from '../../engine/examplePool.ts';
import type { Rule } from '../../engine/rule.ts';
import { poolToCheck } from '../../lookup/poolToCheck.ts';

/** Techniques of which a pool says more than its runners can. */
export const overstatedInPool: Rule = {
  code: 'overstated-in-pool',
  severity: 'warning',
  title: 'A technique of which a pool says more than so many runners can.',
  page: {
    why: 'One runner moves a number of a pool by 80 at most. Larger sums were written by somebody, and would outvote what everybody really practised, so what the pool says of the technique is not used.',
    way: 'Make the pool again from the logs, or ask whoever made it for one that the tool wrote.',
    failing: { pool: examplePool({ counted: { 'crate-vault': 3 }, later: 0, overstated: 100 }) },
    passing: { pool: examplePool({ counted: { 'crate-vault': 3 }, later: 0 }) },
  },
  check(context) {
    const pool = poolToCheck(context);
    const [first, ...others] = pool === undefined ? [] : overstatedTechniques(pool.document);
    if (!pool || !first) return [];
    // One for the file: whoever wrote one number has mostly written many.
    const more =
      ['', ' So does 1 more technique.'][others.length] ?? ` So do ${others.length} more techniques.`;
    const message = `\`${first.id}\` says more than ${formatCount(first.runners, 'runner')} can, so it is not used.${more} Make the pool again with \`routewright pool\`.`;
    return [{ uri: pool.uri, path: first.path, part: 'key', message }];
  },
};
