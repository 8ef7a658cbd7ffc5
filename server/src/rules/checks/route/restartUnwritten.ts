import { defaultNumber } from '../../../files/schema/defaults.ts';
import { addKey } from '../../../files/edit/editPath.ts';
import type { Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

const defaultRestart = String(defaultNumber('route', ['restart']));

/** Runs that are reset, and a route that does not say what a reset costs. */
export const restartUnwritten: Rule = {
  code: 'restart-unwritten',
  severity: 'hint',
  title: 'Runs with resets in the logs, and no restart time in the route.',
  needsWholeRoute: true,
  page: {
    why: 'When to give up a run depends on what a new start costs. Until it is written, 10 s are assumed.',
    way: 'Measure once from the reset to the next start and write it as `restart`. The fix writes the 10 s that count now.',
    failing: {
      'example.route.yaml': `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 1:32.4 }
`,
      runs: `runs:
  - { start: 2026-10-05T20:00, ended: { at: harbor, why: reset } }
`,
    },
    passing: {
      'example.route.yaml': `game: Lanternfall
category: any%
restart: 14
segments:
  - { id: harbor, time: 1:32.4 }
`,
      runs: `runs:
  - { start: 2026-10-05T20:00, ended: { at: harbor, why: reset } }
`,
    },
  },
  check({ project }) {
    const { uri, reading } = project.route;
    if ('restart' in reading.outer) return [];
    const ended = project.runs.some(({ document }) =>
      document.runs.some(({ endings }) => endings.length > 0),
    );
    if (!ended) return [];
    const place: SourceRef = { uri, path: ['category'], part: 'key' };
    const message = `Runs end early in the logs, and this route does not say what a new start costs. Add \`restart\`, the seconds from a reset to the next start; until then ${defaultRestart} s are assumed.`;
    const edit = addKey(reading, [], 'restart', defaultRestart, ['target', 'category']);
    return [
      {
        ...place,
        message,
        ...(edit && {
          fix: { ...place, title: `Write \`restart: ${defaultRestart}\``, text: '', edit, onRequest: true },
        }),
      },
    ];
  },
};
