import { plainRoute } from '../marked.ts';

/** The text of a practice file; each argument is what one session holds between its braces. */
export const practice = (...sessions: string[]) =>
  `route: a.route.yaml\nsessions:\n${sessions.map((session) => `  - { ${session} }\n`).join('')}`;

/** A session of one block, as `practice` takes it. */
export const block = (rest: string, start = '2026-10-05T19:30') => `start: ${start}, blocks: [{ ${rest} }]`;

/** The text of a runs file; each argument is what one entry holds between its braces. */
export const runs = (...entries: string[]) =>
  `route: a.route.yaml\nruns:\n${entries.map((run) => `  - { ${run} }\n`).join('')}`;

/** A practice file with the route it belongs to. */
export const practiced = (...sessions: string[]) => ({
  'a.route.yaml': plainRoute,
  'a.practice.yaml': practice(...sessions),
});

/** A runs file with the route it belongs to. */
export const ran = (...entries: string[]) => ({
  'a.route.yaml': plainRoute,
  'a.runs.yaml': runs(...entries),
});
