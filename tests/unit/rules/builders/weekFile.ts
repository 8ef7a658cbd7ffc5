import { exampleRoute } from '../../../../server/src/rules/engine/exampleFiles.ts';
import { plainRoute } from '../marked.ts';

/** A week file with the example route; `rest` holds its further lines. */
export const week = (rest: string) => ({
  'a.route.yaml': exampleRoute,
  'a.week.yaml': `route: a.route.yaml\n${rest}`,
});

/** A week file with a plain route that says only on which days there is time, as a YAML map of minutes. */
export const weekOfDays = (days: string) => ({
  'a.route.yaml': plainRoute,
  'a.week.yaml': `route: a.route.yaml\ndays: ${days}\n`,
});
