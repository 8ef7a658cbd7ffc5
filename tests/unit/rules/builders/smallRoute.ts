import { findingsOf } from '../marked.ts';

/** A route file with the two techniques `vault` and `hop`. Both arguments are lines of YAML, each with its line end. */
export const route = (segments: string, techniques = '') => ({
  'a.route.yaml': `game: Lanternfall\ncategory: any%\nsegments:\n${segments}techniques:\n  vault: { difficulty: 3, saves: 3.2, loses: 1.4 }\n  hop: { difficulty: 2, saves: 1.8, loses: 0.8 }\n${techniques}`,
});

/** One segment with these uses; `rest` holds further keys, each with a comma before it. */
export const harbor = (uses: string, rest = '') =>
  `  - { id: harbor, time: 90${rest}, techniques: [${uses}] }\n`;

/** The codes of all findings in such a route. */
export const codes = async (...given: Parameters<typeof route>) =>
  (await findingsOf(route(...given))).map(({ code }) => code);
