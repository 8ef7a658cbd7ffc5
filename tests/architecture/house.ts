import { circlesOf } from './circles.ts';
import { fairestOrder } from './floors.ts';
import type { BrokenRule, SourceTree } from './tree.ts';

/** An import of a file by a file of another room. */
export interface Arrow {
  readonly from: string;
  readonly to: string;
}

/** One room with what it holds. */
export interface Floor {
  readonly room: string;
  readonly files: number;
  readonly lines: number;
  /** Imports of files of each other room, by the room's name, from the ground up. */
  readonly down: ReadonlyMap<string, number>;
  readonly up: ReadonlyMap<string, number>;
}

/** The rooms of a source from the ground up, and what stands against their order. */
export interface House {
  readonly floors: readonly Floor[];
  /** True where the order is the table's, false where it is the most favourable one. */
  readonly hasTable: boolean;
  readonly up: readonly Arrow[];
  /** Files that import each other in a circle, group by group. */
  readonly circles: readonly (readonly string[])[];
  /** Rooms that import each other in a circle, group by group. */
  readonly roomCircles: readonly (readonly string[])[];
  readonly broken: readonly BrokenRule[];
}

/** The innermost room that a file lies in; where no table names one, its folder below server/src, or server/src itself. */
function roomOf(path: string, table: readonly string[] | undefined): string {
  if (!table) return /^server\/src\/[^/]+(?=\/)/.exec(path)?.[0] ?? 'server/src';
  const all = table.filter((room) => path === room || path.startsWith(`${room}/`));
  return all.reduce((inner, room) => (room.length > inner.length ? room : inner), '');
}

/** Sorts the files of a source into its rooms. Files that no room holds are left out. */
export function buildHouse({ files, rooms, broken }: SourceTree): House {
  const table = rooms?.map(({ room }) => room);
  const home = new Map(
    files.map(({ path }) => [path, roomOf(path, table)] as const).filter(([, room]) => room !== ''),
  );
  const weights = new Map<string, Map<string, number>>();
  const arrows: Arrow[] = [];
  for (const { path, imports } of files) {
    const from = home.get(path);
    if (from === undefined) continue;
    for (const target of imports) {
      const to = home.get(target);
      if (to === undefined || to === from) continue;
      arrows.push({ from: path, to: target });
      const row = weights.get(from) ?? new Map<string, number>();
      weights.set(from, row.set(to, (row.get(to) ?? 0) + 1));
    }
  }
  const lived = [...new Set(home.values())];
  const order = table ? table.filter((room) => lived.includes(room)) : fairestOrder(lived.sort(), weights);
  const height = new Map(order.map((room, floor) => [room, floor]));
  const floors = order.map((room, floor) => {
    const own = files.filter(({ path }) => home.get(path) === room);
    const counts = order.flatMap((to) => {
      const count = weights.get(room)?.get(to);
      return count === undefined ? [] : [[to, count] as const];
    });
    return {
      room,
      files: own.length,
      lines: own.reduce((sum, { lines }) => sum + lines, 0),
      down: new Map(counts.filter(([to]) => height.get(to)! < floor)),
      up: new Map(counts.filter(([to]) => height.get(to)! > floor)),
    };
  });
  return {
    floors,
    hasTable: table !== undefined,
    up: arrows.filter(({ from, to }) => height.get(home.get(to)!)! > height.get(home.get(from)!)!),
    circles: circlesOf(new Map(files.map(({ path, imports }) => [path, imports]))),
    roomCircles: circlesOf(new Map(order.map((room) => [room, weights.get(room)?.keys() ?? []]))),
    broken,
  };
}

/** How many things stand against the order of a house. */
export function faultsOf({ up, circles, broken }: House): number {
  return up.length + circles.length + broken.length;
}
