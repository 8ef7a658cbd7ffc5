/** Plans of invented routes for tests of the run's distribution. */
import fc from 'fast-check';
import { layOutRoute } from '../../server/src/model/run/routeLayout.ts';
import { finalTimeDistribution } from '../../server/src/model/run/timeDistribution.ts';
import type { TimeDistribution } from '../../server/src/model/run/timeDistribution.ts';
import { planRun } from '../../server/src/model/run/runPlan.ts';
import type { RouteModel, SegmentModel, UseModel } from '../../server/src/model/core/types.ts';
import { route, segment, use } from './invented.ts';

export type Rates = Readonly<Record<string, number>>;

/** Plays every use of a route, with the last option of each choice (a backup where there is one). */
export function playAll(segments: SegmentModel[], rates: Rates = {}, step = 0.1) {
  const model: RouteModel = route(segments, []);
  const layout = layOutRoute(model);
  const played = Int32Array.from(layout.choices, (choice) => choice.options.length - 1);
  const rateOf = (technique: string): number => rates[technique] ?? 0;
  const { plan } = planRun(model, layout, { played, rateOf }, step);
  return { model, layout, played, rateOf, plan, times: finalTimeDistribution(plan) };
}

/** The points with mass, as [seconds, chance], rounded so that a test can compare them. */
export function atoms(times: TimeDistribution): (readonly [number, number])[] {
  return [...times.masses].flatMap((mass, i) =>
    mass > 1e-12
      ? [[Number((times.start + i * times.step).toFixed(6)), Number(mass.toFixed(10))] as const]
      : [],
  );
}

/** Standard deviation of the times of finished runs. */
export function deviation(times: TimeDistribution): number {
  let [mass, first, second] = [0, 0, 0];
  times.masses.forEach((m, i) => {
    mass += m;
    first += m * i;
    second += m * i * i;
  });
  return Math.sqrt(second / mass - (first / mass) ** 2) * times.step;
}

export const ends: Partial<UseModel> = { misses: [{ chance: 1, loses: 0, endsRun: true }] };

/** Numbers spread evenly over a range: most of fast-check's own doubles are close to 0. */
export const evenly = (low: number, high: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((n) => low + ((high - low) * n) / 1_000_000);

const tenths = (most: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: most * 10 }).map((n) => n / 10);
const share = evenly(0, 1);

/** A technique's use of any kind: plain, retried, ending the run, several ways to miss. */
const anyUse = fc
  .record({
    saves: evenly(0, 12),
    loses: evenly(0, 9),
    kind: fc.constantFrom('plain', 'retry', 'ends', 'ways'),
    rate: evenly(0.05, 0.95),
  })
  .map(({ saves, loses, kind, rate }) => ({ saves, loses, kind, rate }));

/** Random routes of a few segments with techniques of every kind, and their landing rates. */
export const anyRoute = fc
  .array(
    fc.record({
      time: tenths(90).map((t) => t + 10),
      spread: fc.oneof(fc.constant(0), evenly(0.05, 4)),
      survive: evenly(0.6, 1),
      luck: fc.array(fc.record({ chance: share, adds: tenths(9) }), { maxLength: 1 }),
      uses: fc.array(anyUse, { maxLength: 2 }),
      item: fc.constantFrom('none', 'take', 'with'),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map((parts) => {
    const rates: Record<string, number> = {};
    const segments = parts.map(({ uses, item, ...numbers }, s) =>
      segment(
        `s${s}`,
        numbers.time,
        uses.map(({ saves, loses, kind, rate }, u) => {
          const id = `t${s}-${u}`;
          rates[id] = rate;
          const more: Partial<UseModel> = {
            ...(kind === 'retry' && { retrySeconds: 2.3, maxTries: 3 }),
            ...(kind === 'ends' && ends),
            ...(kind === 'ways' && {
              misses: [
                { chance: 0.6, loses, endsRun: false },
                { chance: 0.3, loses: loses + 4, endsRun: false },
                { chance: 0.1, loses: 0, endsRun: true },
              ],
            }),
            ...(item === 'take' && { take: 'oil', costs: 3 }),
            ...(item === 'with' && u === 0 && { with: 'oil' }),
          };
          return use(id, saves, loses, more);
        }),
        numbers,
      ),
    );
    return { segments, rates };
  });
