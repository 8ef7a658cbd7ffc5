import { formatCount } from '../../../text/format.ts';
import { examplePool } from '../../engine/examplePool.ts';
import type { Rule } from '../../engine/rule.ts';
import { poolToCheck } from '../../lookup/poolToCheck.ts';

/** A technique that more runners practised than the pool has. */
export const moreCountedThanNamed: Rule = {
  code: 'more-counted-than-named',
  severity: 'warning',
  title: 'More runners of a technique than the pool names.',
  page: {
    why: 'A technique with more runners than the whole pool was not counted from these runners: somebody changed the file, or two pools were put together by hand.',
    way: 'Make the pool again from the logs, or merge the pools with `routewright pool a.pool.yaml b.pool.yaml`.',
    failing: { pool: examplePool({ counted: { 'crate-vault': 5 } }) },
    passing: { pool: examplePool({ counted: { 'crate-vault': 3 } }) },
  },
  check(context) {
    const pool = poolToCheck(context);
    // Where something was left out, runners may be missing in the list for that reason.
    if (!pool || pool.reading.problems.length > 0) return [];
    const { runners, techniques } = pool.document;
    const found = techniques.filter((one) => one.runners > runners.length);
    const [first] = found;
    if (!first) return [];
    // One for the file: a list that lost its end is too short for many.
    const more = ['', ' So does 1 more.'][found.length - 1] ?? ` So do ${found.length - 1} more.`;
    const message = `\`${first.id}\` counts ${formatCount(first.runners, 'runner')}, and the pool names ${runners.length}.${more} Make the pool again with \`routewright pool\`.`;
    return [{ uri: pool.uri, path: [...first.path, 'runners'], part: 'value', message }];
  },
};
