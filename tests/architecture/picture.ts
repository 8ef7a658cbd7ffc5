import type { Floor, House } from './house.ts';

/** A room's path without what all of them begin with. */
export const short = (room: string): string => room.replace(/^server\/src\/?/, '') || 'ways in';

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** Where the arrows of a room lead to, with their counts: `files/yaml 4, text 2`. */
function arrowsOf(floor: Floor): string {
  const list = (arrows: Floor['down']): string =>
    [...arrows]
      .reverse()
      .map(([room, count]) => `${short(room)} ${count}`)
      .join(', ');
  return (
    [list(floor.down), floor.up.size > 0 ? `UP: ${list(floor.up)}` : ''].filter(Boolean).join('; ') || '–'
  );
}

/** What stands against the order of the rooms, each with its name, and how much that is. */
export function drawFaults({ hasTable, up, circles, roomCircles, broken }: House): string {
  return [
    ...up.map(({ from, to }) => `arrow up: ${from} -> ${to}`),
    ...circles.map((files) => `circle of ${counted(files.length, 'file')}: ${files.join(', ')}`),
    ...roomCircles.map((rooms) => `rooms that import each other in a circle: ${rooms.map(short).join(', ')}`),
    ...broken.map(({ rule, from, to }) => `${rule}: ${from} -> ${to}`),
    `arrows up: ${up.length}, circles: ${circles.length}${hasTable ? `, other rules broken: ${broken.length}` : ''}`,
  ].join('\n');
}

/** The rooms as a table from the ground up, and below it what stands against their order. */
export function drawAsText(house: House): string {
  const { floors, hasTable } = house;
  const rows = [
    ['room', 'files', 'lines', 'imports from'],
    ...floors.map((floor) => [short(floor.room), `${floor.files}`, `${floor.lines}`, arrowsOf(floor)]),
  ];
  const width = (column: number): number => Math.max(...rows.map((row) => row[column]!.length));
  const table = rows.map(([room, files, lines, arrows]) =>
    [room!.padEnd(width(0)), files!.padStart(width(1)), lines!.padStart(width(2)), arrows].join('  '),
  );
  const sum = (of: (floor: Floor) => number): number => floors.reduce((total, floor) => total + of(floor), 0);
  return [
    hasTable
      ? 'Rooms from the ground up, in the order of .dependency-cruiser.mjs. A number counts imports of files.'
      : [
          'This revision has no table of rooms. Its rooms are the folders of server/src, and their order is the one in',
          'which the fewest imports run up, found by comparing all orders: no other order is more favourable to it.',
        ].join('\n'),
    '',
    ...table,
    `${counted(floors.length, 'room')}, ${counted(
      sum(({ files }) => files),
      'file',
    )}, ${counted(
      sum(({ lines }) => lines),
      'line',
    )}`,
    '',
    drawFaults(house),
  ].join('\n');
}

const ROW = 26;
const LEFT = 330;
const BOX = 190;
const RIGHT = 330;

/**
 * The rooms as a drawing: the ground is at the bottom, arrows down are arcs on the left, arrows up on the right; the
 * wider an arc, the more imports.
 */
export function drawAsSvg({ floors, up, circles }: House): string {
  const height = (floors.length + 2) * ROW;
  const middle = new Map(floors.map(({ room }, floor) => [room, height - ROW * (floor + 1)]));
  const arc = (from: string, to: string, count: number, isUp: boolean): string => {
    const [start, end] = [middle.get(from)!, middle.get(to)!];
    const reach = 20 + (Math.abs(end - start) / height) * (isUp ? RIGHT : LEFT) * 1.2;
    const edge = isUp ? LEFT + BOX : LEFT;
    const bend = isUp ? edge + reach : edge - reach;
    const wide = Math.min(6, 0.6 + Math.log2(count) / 2).toFixed(1);
    const title = `<title>${short(from)} imports ${short(to)}: ${count}</title>`;
    return `<path d="M${edge} ${start}C${bend.toFixed(0)} ${start} ${bend.toFixed(0)} ${end} ${edge} ${end}" stroke-width="${wide}" class="${isUp ? 'up' : 'down'}">${title}</path>`;
  };
  const boxes = floors.map(({ room, files, lines }) => {
    const y = middle.get(room)!;
    return `<rect x="${LEFT}" y="${y - 10}" width="${BOX}" height="20" rx="3"/><text x="${LEFT + 8}" y="${y + 4}">${short(room)}</text><text class="size" x="${LEFT + BOX - 8}" y="${y + 4}">${files} / ${lines}</text>`;
  });
  const arcs = floors.flatMap(({ room, down, up: above }) => [
    ...[...down].map(([to, count]) => arc(room, to, count, false)),
    ...[...above].map(([to, count]) => arc(room, to, count, true)),
  ]);
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${LEFT + BOX + RIGHT} ${height}" font-family="sans-serif" font-size="12">
<style>svg{background:#fff}rect{fill:#eef2f7;stroke:#456}.size{text-anchor:end;fill:#667;font-size:10px}path{fill:none;opacity:.55}.down{stroke:#57a}.up{stroke:#c60}</style>
<text x="12" y="18">arrows up: ${up.length} (right), circles: ${circles.length}; in each room: files / lines</text>
${[...arcs, ...boxes].join('\n')}
</svg>
`;
}
