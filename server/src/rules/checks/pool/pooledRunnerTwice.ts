import { examplePool } from '../../engine/examplePool.ts';
import type { Rule } from '../../engine/rule.ts';
import { poolToCheck } from '../../lookup/poolToCheck.ts';

/** A runner who stands in the list of a pool twice. */
export const pooledRunnerTwice: Rule = {
  code: 'pooled-runner-twice',
  severity: 'warning',
  title: 'A runner who is named twice in a pool.',
  page: {
    why: "The tool writes each runner once. A second time means that somebody changed the file, and one person's practice may count for two.",
    way: 'Make the pool again from the logs or from the pools it was merged of: `routewright pool` notices who is in both.',
    failing: {
      pool: examplePool({
        runners: ['"3f9a1c0b7d2e"', '"81c2e60f4a95"', '"c70d13b8e246"', '"3f9a1c0b7d2e"'],
      }),
    },
    passing: { pool: examplePool() },
  },
  check(context) {
    const pool = poolToCheck(context);
    const [first, ...others] = pool?.document.repeatedRunners ?? [];
    if (!pool || !first) return [];
    // One for the file: whoever wrote one twice has mostly written many twice.
    const more = ['', ' So is 1 more.'][others.length] ?? ` So are ${others.length} more.`;
    const message = `The runner "${first.id}" is in this list twice, so one person's practice may count for two.${more} Make the pool again with \`routewright pool\`.`;
    return [{ uri: pool.uri, path: first.path, part: 'value', message }];
  },
};
