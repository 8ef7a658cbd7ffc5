/** The worth of a technique to the run at each landing rate, and the rate above which trying it pays. */
import { inOneGo, type Steps } from '../../incremental/steps.ts';
import type { Baseline } from './baseline.ts';
import type { Constants } from '../core/constants.ts';
import type { RouteLayout } from './routeLayout.ts';
import { buildTechniquePolicy } from './techniquePolicy.ts';
import type { LandingRateOf } from './runState.ts';
import { choicesOfTechnique } from './affectedSegments.ts';
import { tabulateInSteps } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';

/** The worth of one technique alone, compared with the baseline. */
export interface TechniqueWorth {
  /**
   * Seconds by which V is lower, as a function of the landing rate in a run; 0 where using the technique does not
   * pay.
   */
  readonly saved: RateTable;
  /** Smallest landing rate in a run at which some use of it pays; null if no use pays at any rate. */
  readonly breakEven: number | null;
  /** Techniques that share a spot with it. */
  readonly sharesSpotWith: readonly string[];
  /** Items it takes or needs. */
  readonly items: readonly string[];
  /** Items it needs that no technique of the baseline picks up. */
  readonly missingItems: readonly string[];
  /** Whether the route names it only as the backup of other techniques. */
  readonly onlyAsBackup: boolean;
  /** Whether the route has any use of it, or names it as a backup. */
  readonly used: boolean;
}

/**
 * Values one technique against the baseline (which must not use it): at each rate, the drop in V when it is used
 * wherever that lowers V and nothing else changes.
 */
export const valueTechnique = inOneGo(valueTechniqueInSteps);

/** The same in steps, the longest of them the worth at one landing rate. */
export function* valueTechniqueInSteps(
  layout: RouteLayout,
  technique: string,
  base: Baseline,
  allowed: (technique: string) => boolean,
  rateOf: LandingRateOf,
  constants: Constants,
): Steps<TechniqueWorth> {
  const named = choicesOfTechnique(layout, technique).map((c) => layout.choices[c]!.options);
  const main = named.filter((options) => options.some((option) => option.technique === technique));
  const uses = main.flatMap((options) => options.map(({ use }) => use));
  const own = uses.filter((use) => use.technique === technique);
  const items = own.flatMap(({ take, with: needed }) => [take ?? [], needed ?? []].flat());
  const spotMates = uses.flatMap((use) => (use.technique === technique ? [] : use.technique));
  const player = buildTechniquePolicy(layout, technique, base, allowed, rateOf, constants);
  const { breakEven } = player;
  const savedAt = function* (rate: number): Steps<number> {
    if (breakEven === null) return 0;
    yield;
    return Math.max(0, base.worth - player.worthAt(rate));
  };
  return {
    saved: yield* tabulateInSteps(savedAt, constants.rateFloor),
    breakEven,
    sharesSpotWith: [...new Set(spotMates)].sort(),
    items: [...new Set(items)].sort(),
    missingItems: player.missingItems,
    used: named.length > 0,
    onlyAsBackup: named.length > 0 && main.length === 0,
  };
}
