/** Simulates single runs with seeded random numbers: an independent calculation of the distribution. */
import type { RouteLayout, PlayOption } from '../../server/src/model/run/routeLayout.ts';
import type { ChosenOptions } from '../../server/src/model/run/playSegments.ts';
import type { LandingRateOf } from '../../server/src/model/run/runState.ts';
import type { RouteModel } from '../../server/src/model/core/types.ts';

export interface PlayedRun {
  /** Final time in seconds; null where the run ended early. */
  readonly final: number | null;
  /** Clock seconds without the restart; a segment in which the run ends counts half of its usual time. */
  readonly times: readonly number[];
}

/**
 * A gamma variate with the mean and the standard deviation `spread`, whose least value is two spreads below the mean:
 * the sum of four exponentials.
 */
function noise(mean: number, spread: number, random: () => number): number {
  if (spread === 0) return mean;
  const four = -Math.log((1 - random()) * (1 - random()) * (1 - random()) * (1 - random()));
  return mean + spread * (four / 2 - 2);
}

function miss(option: PlayOption, random: () => number): number | null {
  let left = random();
  for (const { chance, loses, endsRun } of option.use.misses) {
    left -= chance;
    if (left < 0) return endsRun ? null : loses;
  }
  return option.use.misses.at(-1)?.loses ?? 0;
}

/** The seconds that trying a use adds, and whether it landed; null where the run ends. */
function tryOption(
  option: PlayOption,
  rateOf: LandingRateOf,
  random: () => number,
): [number, boolean] | null {
  const { use, backup, backupPlain } = option;
  let spent = use.take === undefined ? 0 : use.costs;
  for (let n = 1; ; n++) {
    if (random() < rateOf(option.technique)) return [spent - use.saves.mean, true];
    const lost = miss(option, random);
    if (lost === null) return null;
    if (n < use.maxTries) {
      spent += use.retrySeconds;
      continue;
    }
    if (backup === null || backupPlain === null) return [spent + lost, false];
    if (random() < rateOf(backup)) return [spent + lost - backupPlain.saves, false];
    if (random() < backupPlain.endShare) return null;
    return [spent + lost + backupPlain.loses, false];
  }
}

/** Simulates one run; `times` are the times of the segments that were finished. */
export function playRun(
  route: RouteModel,
  layout: RouteLayout,
  played: ChosenOptions,
  rateOf: LandingRateOf,
  random: () => number,
): PlayedRun {
  const times: number[] = [];
  const held = new Set<string>();
  let total = 0;
  for (const [s, segment] of route.segments.entries()) {
    let time = noise(segment.time, segment.spread, random);
    if (random() >= segment.survive) return { final: null, times };
    for (const { chance, adds } of segment.luck) if (random() < chance) time += adds;
    for (const c of layout.choicesInSegment[s]!) {
      const option = layout.choices[c]!.options[played[c]!];
      if (option === undefined || (option.use.with !== undefined && !held.has(option.use.with))) continue;
      const result = tryOption(option, rateOf, random);
      if (result === null) return { final: null, times };
      time += result[0];
      if (result[1] && option.use.take !== undefined) held.add(option.use.take);
    }
    times.push(time);
    total += time;
  }
  return { final: total, times };
}
