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

/** Gain of every heavy curve after n blocks (curve by curve), with its weight. */
interface CurveGains {
  readonly weights: Float64Array;
  readonly gains: Float64Array;
  readonly width: number;
}

const leastMass = 1e-4;

/** Step in log odds of the tables in which the loss is summed out. */
const step = 0.1;

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

function curveGains(posterior: SkillPosterior, levels: Levels, saved: RateTable): CurveGains {
  const { mass } = posterior;
  let top = 0;
  for (const m of mass) top = Math.max(top, m);
  const heavy = Int32Array.from([...mass.keys()].filter((i) => mass[i]! > leastMass * top));
  const width = levels.practised.length;
  const weights = Float64Array.from(heavy, (i) => mass[i]!);
  const total = weights.reduce((a, b) => a + b, 0);
  const gains = new Float64Array(heavy.length * width);
  const curves = Int32Array.from(heavy, (i) => posterior.curves[i]!);
  const value = valuesOf(posterior, saved, heavy);
  const idleFirst = value(curveLogits(posterior.grid, curves, levels.idle[0]!));
  const idleLast = value(curveLogits(posterior.grid, curves, levels.idle[width - 1]!));
  for (let n = 1; n < width; n++) {
    const at = value(curveLogits(posterior.grid, curves, levels.practised[n]!));
    const t = n / (width - 1);
    for (let i = 0; i < heavy.length; i++) {
      gains[i * width + n] = Math.max(0, at[i]! - idleFirst[i]! - t * (idleLast[i]! - idleFirst[i]!));
    }
  }
  return { weights: weights.map((w) => w / total), gains, width };
}

/** Blocks and gain, on average over the curves, when each is practised to its best stop at a price a block. */
function atPrice({ weights, gains, width }: CurveGains, least: number, price: number) {
  let blocks = 0;
  let gain = 0;
  for (let i = 0; i < weights.length; i++) {
    let bestN = least;
    let best = -Infinity;
    for (let n = least, at = i * width + least; n < width; n++, at++) {
      const value = gains[at]! - price * n;
      if (value > best) {
        best = value;
        bestN = n;
      }
    }
    blocks += weights[i]! * bestN;
    gain += weights[i]! * gains[i * width + bestN]!;
  }
  return { blocks, gain };
}

const points = 14;

/** Expected gain in seconds after n blocks on average, n from 0, when the curve shows itself after `shows` blocks. */
export function informedCurve(
  posterior: SkillPosterior,
  levels: Levels,
  saved: RateTable,
  shows: number,
): Float64Array {
  const curves = curveGains(posterior, levels, saved);
  const out = new Float64Array(curves.width);
  const last = curves.width - 1;
  const least = Math.min(last, Math.max(1, shows));
  const mean = (n: number): number => curves.weights.reduce((sum, w, i) => sum + w * curves.gains[i * curves.width + n]!, 0);
  for (let n = 1; n <= least; n++) out[n] = mean(n);
  const all = mean(last);
  out[last] = Math.max(out[last]!, all);
  if (!(all > 0)) return out;
  let top = 0;
  for (const g of curves.gains) top = Math.max(top, g);
  const frontier = [{ blocks: least, gain: out[least]! }];
  for (let i = 0; i < points; i++) {
    frontier.push(atPrice(curves, least, top / 2 ** (i * 0.75)));
  }
  frontier.push({ blocks: last, gain: all });
  frontier.sort((a, b) => a.blocks - b.blocks);
  for (let n = least + 1, f = 0; n <= last; n++) {
    while (f + 1 < frontier.length - 1 && frontier[f + 1]!.blocks < n) f++;
    const a = frontier[f]!;
    const b = frontier[f + 1]!;
    const t = b.blocks > a.blocks ? (n - a.blocks) / (b.blocks - a.blocks) : 1;
    out[n] = Math.max(out[n - 1]!, a.gain + Math.min(1, Math.max(0, t)) * (b.gain - a.gain));
  }
  return out;
}
