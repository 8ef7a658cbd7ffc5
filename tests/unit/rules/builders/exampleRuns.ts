import { exampleRoute } from '../../../../server/src/rules/engine/exampleFiles.ts';
import { findingsOf } from '../marked.ts';

/** A runs file with the example route; each argument is what one entry holds between its braces. */
export const ran = (...entries: string[]) => ({
  'a.route.yaml': exampleRoute,
  'a.runs.yaml': `route: a.route.yaml\nruns:\n${entries.map((run) => `  - { ${run} }\n`).join('')}`,
});

/** The codes of all findings in such files. */
export const codes = async (...entries: string[]) =>
  (await findingsOf(ran(...entries))).map(({ code }) => code);

/** The start of one run. */
export const start = 'start: 2026-10-05T20:00';
