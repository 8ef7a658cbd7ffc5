import type { WithPath } from '../../../files/documents/documents.ts';
import { formatTime } from '../../../text/time.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';

/** Share of a segment's time above which its spread must be a mistake: most runs of it are within a few per cent. */
const maxShare = 0.5;

/** A spread that is a large part of its segment's time. */
export const spreadTooLarge: Rule = {
  code: 'spread-too-large',
  severity: 'warning',
  title: "A spread that is more than half of its segment's time.",
  page: {
    why: '`spread` is the standard deviation in seconds. One that is too large makes very fast runs, and so the target, look more likely than they are.',
    way: 'Most segments vary by one to three per cent of their time. What happens only sometimes belongs under `luck` or `survive`.',
    failing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, spread: 90 }\n' },
    passing: { route: 'segments:\n  - { id: harbor, time: 1:32.4, spread: 1.1 }\n' },
  },
  check({ project }) {
    const { segments, weeks } = project;
    if (weeks.length === 0) return [];
    const usual = new Set(segments.map(({ id }) => id));
    return weeks.flatMap(({ uri, document }) =>
      document.times.flatMap((timed) => (usual.has(timed.id) ? foundIn(timed, uri) : [])),
    );
  },
  checkSegment: (segment, { uri }) => foundIn(segment, uri),
};

interface Timed extends WithPath {
  readonly id: string;
  readonly time: number;
  readonly spread: number | undefined;
}

function foundIn({ id, path, time, spread }: Timed, uri: string): RuleReport[] {
  if (spread === undefined || spread <= maxShare * time) return [];
  const message = `A spread of ${spread} s is more than half of the ${formatTime(time)} that \`${id}\` takes. It is the standard deviation in seconds, usually one to three per cent of the time: correct it, and write what happens only sometimes under \`luck\`.`;
  return [{ uri, path: [...path, 'spread'], part: 'value', message }];
}
