/**
 * What practice is worth to a runner who stops in the light of what it shows.
 *
 * A plan of a fixed number of blocks undervalues a technique that may come quickly or not at all: after a few blocks
 * the counts tell which, and what does not come is set aside. Here the learning curve is taken to be known after
 * `shows` blocks, and each curve is then practised to its own best stop.
 */
import { curveLogits } from './grid.ts';
import type { Levels } from './forecast.ts';
import type { SkillPosterior } from './posterior.ts';
import { readTable } from './scale.ts';
import type { RateTable } from './scale.ts';

/** Gain of every heavy curve at every stop (curve by curve), with the weights of the curves. */
interface CurveGains {
  readonly weights: Float64Array;
  readonly gains: Float64Array;
  /** Numbers of blocks at which the curves are read. */
  readonly stops: readonly number[];
  readonly length: number;
}

const leastMass = 1e-4;

/** Step in log odds of the tables in which the loss is summed out. */
const step = 0.2;

/**
 * Expected value of a function of the landing rate in a run, curve by curve: the loss in runs is summed out, since
 * practice does not show it. Curves that share a row share a table; otherwise each is summed when asked.
 */
function valuesOf(posterior: SkillPosterior, saved: RateTable, heavy: Int32Array): (x: Float64Array) => Float64Array {
  const { losses, rows, row } = posterior;
  const width = losses.count;
  const share = (r: number): Float64Array => {
    const own = rows.subarray(r * width, (r + 1) * width);
    const total = own.reduce((a, b) => a + b, 0);
    return own.map((v) => v / total);
  };
  const sum = (shares: Float64Array, x: number): number => {
    let out = 0;
    for (let j = 0; j < width; j++) out += shares[j]! * readTable(saved, x - losses.from - j * losses.step);
    return out;
  };
  const shares = new Map<number, Float64Array>();
  for (const i of heavy) if (!shares.has(row[i]!)) shares.set(row[i]!, share(row[i]!));
  if (shares.size * 4 > heavy.length) {
    const own = Array.from(heavy, (i) => shares.get(row[i]!)!);
    return (x) => x.map((at, n) => sum(own[n]!, at));
  }
  const edge = -saved.from;
  const points = Math.ceil((2 * edge) / step) + 2;
  const tables = new Map([...shares].map(([r, own]) => [r, Float64Array.from({ length: points }, (_, p) => sum(own, p * step - edge))]));
  const own = Array.from(heavy, (i) => tables.get(row[i]!)!);
  return (x) =>
    x.map((logit, n) => {
      const at = Math.min(points - 1.000001, Math.max(0, (logit + edge) / step));
      const base = at | 0;
      const table = own[n]!;
      return table[base]! + (at - base) * (table[base + 1]! - table[base]!);
    });
}

/** Blocks at which the curves are read: every one at first, then further apart; straight lines in between. */
function readAt(width: number): number[] {
  const read: number[] = [];
  for (let n = 1; n < width - 1; n += Math.max(1, Math.round(n / 4))) read.push(n);
  return [...read, width - 1];
}

function curveGains(posterior: SkillPosterior, levels: Levels, saved: RateTable): CurveGains {
  const { mass } = posterior;
  let top = 0;
  for (const m of mass) top = Math.max(top, m);
  const heavy = Int32Array.from([...mass.keys()].filter((i) => mass[i]! > leastMass * top));
  const length = levels.practised.length;
  const weights = Float64Array.from(heavy, (i) => mass[i]!);
  const total = weights.reduce((a, b) => a + b, 0);
  const stops = readAt(length);
  const width = stops.length;
  const gains = new Float64Array(heavy.length * width);
  const curves = Int32Array.from(heavy, (i) => posterior.curves[i]!);
  const value = valuesOf(posterior, saved, heavy);
  const idleFirst = value(curveLogits(posterior.grid, curves, levels.idle[0]!));
  const idleLast = value(curveLogits(posterior.grid, curves, levels.idle[length - 1]!));
  stops.forEach((n, r) => {
    const at = value(curveLogits(posterior.grid, curves, levels.practised[n]!));
    const t = n / (length - 1);
    for (let i = 0, to = r; i < heavy.length; i++, to += width) {
      gains[to] = Math.max(0, at[i]! - idleFirst[i]! - t * (idleLast[i]! - idleFirst[i]!));
    }
  });
  return { weights: weights.map((w) => w / total), gains, stops, length };
}

/** Blocks and gain, on average over the curves, when each is practised to its best stop at a price a block. */
function atPrice({ weights, gains, stops }: CurveGains, least: number, price: number) {
  let blocks = 0;
  let gain = 0;
  const width = stops.length;
  for (let i = 0, own = 0; i < weights.length; i++, own += width) {
    let bestR = least;
    let best = -Infinity;
    for (let r = least; r < width; r++) {
      const value = gains[own + r]! - price * stops[r]!;
      if (value > best) {
        best = value;
        bestR = r;
      }
    }
    blocks += weights[i]! * stops[bestR]!;
    gain += weights[i]! * gains[own + bestR]!;
  }
  return { blocks, gain };
}

const points = 9;

interface Point {
  readonly blocks: number;
  readonly gain: number;
}

/** Gains after whole numbers of blocks from points in rising order, straight lines in between. */
function filled(points: readonly Point[], length: number): Float64Array {
  const out = new Float64Array(length);
  for (let n = 1, f = 0; n < length; n++) {
    while (f + 2 < points.length && points[f + 1]!.blocks < n) f++;
    const a = points[f]!;
    const b = points[f + 1] ?? a;
    const t = b.blocks > a.blocks ? Math.min(1, Math.max(0, (n - a.blocks) / (b.blocks - a.blocks))) : 1;
    out[n] = Math.max(out[n - 1]!, a.gain + t * (b.gain - a.gain));
  }
  return out;
}

/** Expected gain in seconds after n blocks on average, n from 0, when the curve shows itself after `shows` blocks. */
export function informedCurve(
  posterior: SkillPosterior,
  levels: Levels,
  saved: RateTable,
  shows: number,
): { readonly plain: Float64Array; readonly informed: Float64Array } {
  const curves = curveGains(posterior, levels, saved);
  const { weights, gains, stops, length } = curves;
  const means = stops.map((blocks, r): Point => {
    let gain = 0;
    for (let i = 0, at = r; i < weights.length; i++, at += stops.length) gain += weights[i]! * gains[at]!;
    return { blocks, gain };
  });
  const plain = filled([{ blocks: 0, gain: 0 }, ...means], length);
  let top = 0;
  for (const g of gains) top = Math.max(top, g);
  const least = stops.findIndex((n) => n >= shows);
  if (!(top > 0) || least < 0 || least === stops.length - 1) return { plain, informed: plain };
  const frontier = Array.from({ length: points }, (_, i) => atPrice(curves, least, top / 3 / 2 ** i));
  frontier.sort((a, b) => a.blocks - b.blocks);
  const all = [{ blocks: 0, gain: 0 }, ...means.slice(0, least + 1), ...frontier, means.at(-1)!];
  return { plain, informed: filled(all, length) };
}
