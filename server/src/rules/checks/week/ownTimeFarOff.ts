import { formatTime } from '../../../text/time.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Times the route's time, or its inverse, beyond which two times are hardly of the same segment. */
const factor = 1.5;

/** The runner's own time of a segment, far from the route's. */
export const ownTimeFarOff: Rule = {
  code: 'own-time-far-off',
  severity: 'warning',
  title: "A time of your own that is far from the route's time of the segment.",
  page: {
    why: "Your own time replaces the route's in every forecast. A mistake of a minute changes the expected run by a minute.",
    way: "Correct the time, or the segment's time in the route if that one is wrong.",
    failing: { week: 'times: { harbor: { time: "2:32.4" } }\n' },
    passing: { week: 'times: { harbor: { time: "1:30.9" } }\n' },
  },
  check({ project }) {
    if (project.weeks.length === 0) return [];
    const usual = new Map(project.segments.map((segment) => [segment.id, segment]));
    return project.weeks.flatMap(({ uri, document }) =>
      document.times.flatMap(({ id, time, path }): RuleReport[] => {
        const segment = usual.get(id);
        if (!segment || (time <= factor * segment.time && segment.time <= factor * time)) return [];
        const message = `${formatTime(time)} for \`${id}\` is far from the ${formatTime(segment.time)} that the route gives it, with no technique tried. Correct the one that is wrong.`;
        const place = { uri: segment.uri, path: [...segment.path, 'time'], part: 'value' as const };
        return [
          {
            uri,
            path: [...path, 'time'],
            part: 'value',
            message,
            related: [{ ...place, message: "The route's time is here." }],
          },
        ];
      }),
    );
  },
};
