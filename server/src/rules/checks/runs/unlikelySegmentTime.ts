import { formatTime } from '../../../text/time.ts';
import { plausibleTimes } from '../../lookup/plausibleTimes.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** A segment's time that is most likely a typing mistake. */
export const unlikelySegmentTime: Rule = {
  code: 'unlikely-segment-time',
  severity: 'warning',
  title: 'A time that the segment cannot have had.',
  needsWholeRoute: true,
  page: {
    why: 'Your usual times are worked out from your runs. One typing mistake, such as 13.1 for 1:31, changes them.',
    way: "Correct the time; or where the route has changed since, the segment's usual time.",
    failing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, times: { harbor: 13.1 }, ended: { at: rope-yard, why: reset } }
`,
    },
    passing: {
      runs: `runs:
  - { start: 2026-10-05T20:00, times: { harbor: 1:31 }, ended: { at: rope-yard, why: reset } }
`,
    },
  },
  check(context) {
    const { project } = context;
    if (project.runs.length === 0) return [];
    const bounds = plausibleTimes(context);
    return project.runs.flatMap(({ uri, document }) =>
      document.runs.flatMap(({ times }) =>
        times.flatMap(({ id, seconds, path }): RuleReport[] => {
          const bound = bounds.get(id);
          if (!bound || (seconds >= bound.fastest && seconds <= bound.longest)) return [];
          const way =
            seconds < bound.fastest
              ? `even with everything landed it takes about ${formatTime(Math.max(0, bound.fastest))} or more`
              : `it usually takes ${formatTime(bound.usual)}`;
          const message = `${formatTime(seconds)} for \`${id}\` looks like a typing mistake: ${way}. Correct the time here, or the segment's in the route.`;
          return [{ uri, path, part: 'value', message }];
        }),
      ),
    );
  },
};
