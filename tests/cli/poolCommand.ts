import { expect } from 'vitest';
import { routewright, textOf, type Said, type Terminal } from './place.ts';

/** The pool that belongs beside the route of these tests. */
export const poolName = 'lanternfall.pool.yaml';
const today: Terminal = { now: '2026-11-30T20:00' };

/** Runs `routewright pool` on the last day of November. */
export function run(folder: string, ...argv: string[]): Promise<Said> {
  return routewright(folder, ['pool', ...argv], today);
}

/** What `--json` prints. */
export interface Answer {
  readonly asOf: string;
  readonly route: string;
  readonly file: string | null;
  readonly runners: number;
  readonly techniques: readonly {
    readonly technique: string;
    readonly runners: number;
    readonly rated: number;
    readonly comesLike: number;
  }[];
  readonly leftOut: readonly {
    readonly technique: string;
    readonly runners: number;
    readonly reason: string;
  }[];
  readonly notCounted: readonly { readonly source: string; readonly reason: string }[];
}

/** The answer of a command that ends well and has nothing else to say. */
export async function answer(folder: string, ...argv: string[]): Promise<Answer> {
  const { out, code, err } = await run(folder, ...argv, '--json');
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return JSON.parse(out) as Answer;
}

/** The text of the pool that is made, whatever stood there before. */
export async function poolOf(folder: string, ...argv: string[]): Promise<string> {
  const { code, err } = await run(folder, ...argv, '--output', 'made.pool.yaml', '--anyway');
  expect({ code, err }).toMatchObject({ code: 0 });
  return textOf(folder, 'made.pool.yaml');
}

/** What a pool's text says of its techniques, without the ratings of the route. */
export function techniquesOf(pool: string): string {
  return pool.slice(pool.indexOf('\ntechniques:')).replace(/ # rated.*$/gm, '');
}
