/** What the columns of a table of segments or of techniques hold. */
import { ownKey } from '../tables/cellWords.ts';
import { formatList } from '../text/format.ts';
import { nameKey } from '../text/nameKey.ts';

/** What one row of a table is. */
export type RouteTableKind = 'segments' | 'techniques';

/** What a column may hold, by the kind of table, as the user names it. `ignored` is said by the user alone. */
export const routeMeanings = {
  segments: ['name', 'id', 'time', 'spread', 'survive', 'techniques', 'notes', 'links', 'order', 'ignored'],
  techniques: [
    'name',
    'id',
    'difficulty',
    'saves',
    'loses',
    'ends_run',
    'needs',
    'segments',
    'attempt',
    'reload',
    'from',
    'notes',
    'links',
    'order',
    'ignored',
  ],
} as const satisfies Readonly<Record<RouteTableKind, readonly string[]>>;

/** A meaning, or a key of the user's own that begins with `x-`. */
export type RouteMeaning = (typeof routeMeanings)[RouteTableKind][number] | `x-${string}`;

/** Headings that people write, as `nameKey` spells them, by what they mean. Source: common practice. */
const both: Readonly<Record<string, RouteMeaning>> = {
  name: 'name',
  title: 'name',
  id: 'id',
  notes: 'notes',
  note: 'notes',
  comment: 'notes',
  comments: 'notes',
  remark: 'notes',
  remarks: 'notes',
  description: 'notes',
  link: 'links',
  links: 'links',
  url: 'links',
  video: 'links',
  '#': 'order',
  no: 'order',
  'no.': 'order',
  nr: 'order',
  'nr.': 'order',
  number: 'order',
  order: 'order',
};

const headings: Readonly<Record<RouteTableKind, Readonly<Record<string, RouteMeaning>>>> = {
  segments: {
    ...both,
    segment: 'name',
    segments: 'name',
    'segment name': 'name',
    section: 'name',
    part: 'name',
    stretch: 'name',
    area: 'name',
    room: 'name',
    level: 'name',
    stage: 'name',
    chapter: 'name',
    time: 'time',
    'usual time': 'time',
    'segment time': 'time',
    'average time': 'time',
    average: 'time',
    avg: 'time',
    mean: 'time',
    'mean time': 'time',
    duration: 'time',
    seconds: 'time',
    spread: 'spread',
    sd: 'spread',
    stdev: 'spread',
    'std dev': 'spread',
    'standard deviation': 'spread',
    survive: 'survive',
    'chance to survive': 'survive',
    technique: 'techniques',
    techniques: 'techniques',
    'techniques used': 'techniques',
    'techniques used here': 'techniques',
    tricks: 'techniques',
  },
  techniques: {
    ...both,
    technique: 'name',
    techniques: 'name',
    'technique name': 'name',
    trick: 'name',
    move: 'name',
    movement: 'name',
    skip: 'name',
    difficulty: 'difficulty',
    'how hard': 'difficulty',
    saves: 'saves',
    save: 'saves',
    saved: 'saves',
    'time saved': 'saves',
    'saves time': 'saves',
    'seconds saved': 'saves',
    'time save': 'saves',
    loses: 'loses',
    lose: 'loses',
    loss: 'loses',
    lost: 'loses',
    'time lost': 'loses',
    'seconds lost': 'loses',
    'loses on a miss': 'loses',
    'lost on a miss': 'loses',
    'cost of a miss': 'loses',
    'ends run': 'ends_run',
    'ends the run': 'ends_run',
    'a miss ends the run': 'ends_run',
    needs: 'needs',
    need: 'needs',
    requires: 'needs',
    'learn first': 'needs',
    segment: 'segments',
    segments: 'segments',
    'used in': 'segments',
    where: 'segments',
    section: 'segments',
    area: 'segments',
    attempt: 'attempt',
    'seconds of an attempt': 'attempt',
    reload: 'reload',
    from: 'from',
    'practise from': 'from',
    'practice from': 'from',
  },
};

/** Meanings that are written in seconds or as a time: a heading may name another unit. */
const inSeconds: readonly RouteMeaning[] = ['time', 'spread', 'saves', 'loses', 'attempt', 'reload'];

export interface RouteColumn {
  readonly heading: string;
  /** Undefined where nobody knows. */
  readonly holds: RouteMeaning | undefined;
  /** Whether the heading says that the numbers below are per cent. */
  readonly percent: boolean;
}

/** A heading that keeps a table from being read; the text is the end of a sentence. */
export interface HeadingProblem {
  readonly problem: string;
  /** What the user may say of columns to mend it, as `HEADING=MEANING`. */
  readonly ways?: readonly string[];
}

/** Meanings that only one kind of table has: they say which kind it is. */
const telling: Readonly<Record<RouteTableKind, readonly RouteMeaning[]>> = {
  segments: ['time', 'spread', 'survive'],
  techniques: ['saves', 'loses', 'difficulty', 'needs', 'ends_run', 'attempt', 'reload'],
};

/**
 * What kind of table has these headings, and what each of its columns holds.
 *
 * @param told by heading, in any capitals: what the user says that its column holds. One that the table does not have is
 * left alone.
 */
export function readRouteColumns(
  written: readonly string[],
  told: ReadonlyMap<string, string>,
): { readonly kind: RouteTableKind; readonly columns: readonly RouteColumn[] } | HeadingProblem {
  const toldByKey = new Map([...told].map(([heading, meaning]) => [nameKey(heading), meaning]));
  const kind = (['techniques', 'segments'] as const).find((one) =>
    written.some((heading) => {
      const holds = meaningOf(toldByKey.get(nameKey(heading)) ?? plainHeading(heading).key, one);
      return holds !== undefined && telling[one].includes(holds);
    }),
  );
  if (kind === undefined)
    return {
      problem: 'no column tells the time of a segment, or what a technique saves',
      ways: ['HEADING=time', 'HEADING=saves'],
    };
  const columns: RouteColumn[] = [];
  for (const heading of written) {
    const { key, unit } = plainHeading(heading);
    const asTold = toldByKey.get(nameKey(heading));
    const holds = meaningOf(asTold ?? key, kind);
    if (asTold !== undefined && holds === undefined)
      return {
        problem: `no column of ${kind} can hold ${asTold}; it can hold ${formatList(routeMeanings[kind])}, or a key of your own such as x-colour`,
      };
    if (holds !== undefined && inSeconds.includes(holds) && !mayBeSeconds(unit))
      return { problem: `the column ${heading} is in ${unit}: write it in seconds` };
    columns.push({ heading, holds, percent: unit === '%' || unit === 'per cent' || unit === 'percent' });
  }
  const twice = columns.find(
    ({ holds }, at) =>
      holds !== undefined &&
      holds !== 'ignored' &&
      columns.findIndex((other) => other.holds === holds) !== at,
  );
  if (twice) {
    const first = columns.find(({ holds }) => holds === twice.holds)!;
    return {
      problem: `the columns ${first.heading} and ${twice.heading} both hold ${twice.holds!}`,
      ways: [`${first.heading}=ignored`, `${twice.heading}=ignored`],
    };
  }
  return { kind, columns };
}

/** A heading without its unit, as `nameKey` spells it: `Saves (s)` → `saves` and `s`. */
function plainHeading(heading: string): { readonly key: string; readonly unit: string } {
  const [, name = heading, unit = ''] =
    /^([^([]{1,80})[([]\s{0,2}([^)\]]{1,30}?)\s{0,2}[)\]]$/.exec(heading.trim()) ?? [];
  if (ownKey(heading) !== undefined) return { key: heading, unit: '' };
  const key = nameKey(name.trim().replace(/[:?*]$/, ''));
  return key.endsWith(' %') ? { key: key.slice(0, -2), unit: '%' } : { key, unit: unit.toLowerCase() };
}

/** Whether what stands in brackets is seconds, or no unit at all, as `1-10` behind a difficulty. */
function mayBeSeconds(unit: string): boolean {
  return !/^(?:m|min|mins|minutes?|h|hours?|ms|milliseconds?|frames?|f|%)$/.test(unit);
}

function meaningOf(written: string, kind: RouteTableKind): RouteMeaning | undefined {
  const key = nameKey(written === '-' ? 'ignored' : written);
  const meaning = routeMeanings[kind].find((one) => nameKey(one) === key);
  if (meaning !== undefined) return meaning;
  return ownKey(written) ?? (Object.hasOwn(headings[kind], key) ? headings[kind][key] : undefined);
}
