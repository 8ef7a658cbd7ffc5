import { useName } from '../../files/schema/ids.ts';
import type { RouteParts, TableSegment, TableUse } from '../../routeTables/routeParts.ts';
import { formatCount, formatList } from '../../text/format.ts';
import { formatTime, parseTime } from '../../text/time.ts';
import { heading, type Page, type PagePart, prose, tableOf } from '../page.ts';

/**
 * Tables of segments and techniques as they are understood, before a route is made of them.
 *
 * @param files names of the files that would be written, the route first
 */
export function routeTablesPage(parts: RouteParts, files: readonly string[]): Page {
  const { segments, techniques } = parts;
  const unread = unreadNotice(parts);
  return {
    parts: [
      ...(segments.length === 0 ? [] : segmentParts(parts)),
      ...(techniques.length === 0 ? [] : techniqueParts(parts)),
      prose(tableSum(parts)),
      ...(unread === undefined ? [] : [prose(unread)]),
      prose(`These files would be written: ${formatList(files)}. Nothing was written.`),
    ],
  };
}

/** How much the tables hold, with the sum of the times, which shows a column of times that was read wrong. */
export function tableSum({ segments, techniques, usesOfKnown }: RouteParts): string {
  const used = new Set(
    [...segments, ...usesOfKnown].flatMap(({ uses }) => uses.map(({ technique }) => technique)),
  );
  const unused = techniques.filter(({ id }) => !used.has(id)).map(({ id, name }) => name ?? id);
  const time = segments.reduce((sum, segment) => sum + (parseTime(segment.time) ?? 0), 0);
  const read = [
    ...(segments.length === 0
      ? []
      : [`${formatCount(segments.length, 'segment')} (${formatTime(time)} in all)`]),
    ...(techniques.length === 0 ? [] : [formatCount(techniques.length, 'technique')]),
  ];
  const shown = unused.slice(0, 5);
  const rest = unused.length - shown.length;
  const names = formatList([...shown, ...(rest > 0 ? [`${rest} more`] : [])]);
  return `In the table: ${formatList(read)}.${unused.length === 0 ? '' : ` Used in no segment yet: ${names}.`}`;
}

/** The columns that nothing is read from; undefined where everything is. */
export function unreadNotice({ unread }: RouteParts): string | undefined {
  if (unread.length === 0) return undefined;
  return `Nothing is read from the ${unread.length === 1 ? 'column' : 'columns'} ${formatList(unread)}.`;
}

function segmentParts({ segments }: RouteParts): PagePart[] {
  const rows = segments.map(({ id, name, time, spread, survive, uses, ...rest }) => [
    name ?? id,
    id,
    time,
    spread === undefined ? '' : `${spread} s`,
    survive === undefined ? '' : String(survive),
    uses.map(useWords).join(', '),
    alsoWords(rest),
  ]);
  return [
    heading('Segments'),
    filled(['Segment', 'id', 'time', 'spread', 'survive', 'techniques', 'also'], rows, 'llrrrll'),
  ];
}

function techniqueParts({ techniques }: RouteParts): PagePart[] {
  const rows = techniques.map(({ id, name, difficulty, saves, loses, endsRun, needs, practice, ...rest }) => [
    name ?? id,
    id,
    String(difficulty),
    `${saves} s`,
    [...(loses === undefined ? [] : [`${loses} s`]), ...(endsRun === true ? ['ends the run'] : [])].join(
      ', ',
    ),
    needs.join(', '),
    [
      ...(practice.attempt === undefined ? [] : [`attempt ${practice.attempt} s`]),
      ...(practice.reload === undefined ? [] : [`reload ${practice.reload} s`]),
      ...(practice.from === undefined ? [] : [`from ${practice.from}`]),
    ].join(', '),
    alsoWords(rest),
  ]);
  return [
    heading('Techniques'),
    filled(
      ['Technique', 'id', 'difficulty', 'saves', 'loses', 'needs', 'practice', 'also'],
      rows,
      'llrrrlll',
    ),
  ];
}

/** What else a row says, in few words. */
function alsoWords({ notes, links, own }: Pick<TableSegment, 'notes' | 'links' | 'own'>): string {
  return [
    ...(notes === undefined ? [] : ['notes']),
    ...(links.length === 0 ? [] : [formatCount(links.length, 'link')]),
    ...Object.entries(own).map(([key, value]) => `${key} ${value}`),
  ].join(', ');
}

function useWords({ technique, id, saves, loses }: TableUse): string {
  const differs = [
    ...(saves === undefined ? [] : [`saves ${saves} s`]),
    ...(loses === undefined ? [] : [`loses ${loses} s`]),
  ];
  const name = useName(technique, id);
  return differs.length === 0 ? name : `${name} (${formatList(differs)})`;
}

/** A table without the columns that are empty. */
function filled(titles: readonly string[], rows: readonly (readonly string[])[], align: string): PagePart {
  const kept = titles.flatMap((_, at) => (rows.some((row) => row[at] !== '') ? [at] : []));
  return tableOf(
    kept.map((at) => titles[at]!),
    rows.map((row) => kept.map((at) => row[at]!)),
    kept.map((at) => align[at]!).join(''),
  );
}
