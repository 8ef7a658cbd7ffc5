import { formatTime } from '../files/time.ts';
import type { Path } from '../files/tree.ts';
import type { Found, Rule } from './rule.ts';

/** Share of a segment's time above which its spread is no spread: most runs of it are within a few per cent. */
const mostShare = 0.5;

/** A spread as large as the time that it is the spread of. */
export const spreadTooLarge: Rule = {
  code: 'spread-too-large',
  severity: 'warning',
  title: "A spread that is more than half of its segment's time.",
  page: {
    why: '`spread` is the standard deviation in seconds. Too large a one makes very fast runs look likely, and the target nearer than it is.',
    way: 'Most segments vary by one to three per cent of their time. What happens now and then belongs under `luck` or `survive`.',
    failing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, spread: 90 }\n' },
    passing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, spread: 1.1 }\n' },
  },
  check({ project }) {
    const { route, weeks } = project;
    const usual = new Map(project.segments.map(({ id, spread }) => [id, spread]));
    const timed: readonly [string, Path, number, number | undefined, string][] = [
      ...route.document.segments.map(
        ({ path, time, spread, id }) =>
          [route.uri, path, time, spread, id] as [string, Path, number, number, string],
      ),
      ...weeks.flatMap(({ uri, document }) =>
        document.times.flatMap(({ id, path, time, spread }) =>
          usual.has(id)
            ? [[uri, path, time, spread, id] as [string, Path, number, number | undefined, string]]
            : [],
        ),
      ),
    ];
    return timed.flatMap(([uri, path, time, spread, id]): Found[] => {
      if (spread === undefined || spread <= mostShare * time) return [];
      const message = `A spread of ${spread} s is more than half of the ${formatTime(time)} that \`${id}\` takes. It is the standard deviation in seconds, usually one to three per cent of the time: correct it, and write what happens now and then under \`luck\`.`;
      return [{ uri, path: [...path, 'spread'], part: 'value', message }];
    });
  },
};
