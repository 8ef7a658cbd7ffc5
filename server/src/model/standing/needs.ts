/** What a technique waits for before it is practised: needs that are not ready, left out, unknown or in a loop. */
import { compareCodeUnits } from '../core/numbers.ts';
import { expectationInRun, meanPracticeRate } from '../skill/rateEstimates.ts';
import type { FittedTechnique, PreparedModel } from '../run/preparedModel.ts';
import { needFaults } from './needFaults.ts';
import type { Obstacle } from '../core/standing.ts';
import type { RouteLayout } from '../run/routeLayout.ts';
import type { TechniqueWorth } from '../run/techniqueWorth.ts';

/**
 * A need carries a technique that is practised already until its landing rate falls under this share of the rate
 * from which it is ready. With one threshold, a need near it would send the technique away and back every few days.
 */
const staysReadyShare = 0.7;

/** Whether a need lands often enough in practice for a technique that needs it to be practised. */
export function isReadyFor(
  need: FittedTechnique,
  dependant: FittedTechnique,
  prepared: PreparedModel,
): boolean {
  return isReady(need, prepared, dependant.history.practised.length > 0 ? staysReadyShare : 1);
}

/** Whether a technique lands often enough in practice to carry others: at a share of the rate that is asked. */
export function isReady(
  { technique, posterior, logitsNow }: FittedTechnique,
  { constants }: PreparedModel,
  share = 1,
): boolean {
  return (
    technique.state === 'in-run' || meanPracticeRate(posterior, logitsNow) >= share * constants.readyRate
  );
}

/** The techniques that have a use which picks up the item. */
export function itemProviders({ choices }: RouteLayout, item: string): string[] {
  const found = new Set<string>();
  for (const { options } of choices)
    for (const { use, technique, backup } of options)
      if (use.take === item && backup === null) found.add(technique);
  return [...found].sort();
}

/** The worth of a technique today. */
export interface WorthToday {
  readonly worth: TechniqueWorth;
  /** An item that it needs and that neither the run nor a technique that is ready picks up; null if none. */
  readonly missingItem: string | null;
}

/**
 * The worth of a technique in the run as it is; where that lacks one item, together with the technique that picks it
 * up, if one is ready.
 */
export function worthToday(subject: FittedTechnique, prepared: PreparedModel): WorthToday {
  const { id } = subject.technique;
  const worth = prepared.valuer.now(id);
  const [item, another] = worth.missingItems;
  if (worth.breakEven !== null || item === undefined) return { worth, missingItem: null };
  if (another === undefined) {
    for (const provider of itemProviders(prepared.layout, item)) {
      const other = prepared.fittedTechniques.get(provider);
      if (other === undefined || provider === id || !isReadyFor(other, subject, prepared)) continue;
      const rate = expectationInRun(other.posterior, other.logitsNow, prepared.rates);
      const then = prepared.valuer.afterLearning(id, new Map([[provider, rate]]));
      if (then.breakEven !== null) return { worth: then, missingItem: null };
    }
  }
  return { worth, missingItem: item };
}

/** The techniques that need this one, or an item that it picks up, in order of id. */
export function opensTechniques(technique: string, { fittedTechniques, layout }: PreparedModel): string[] {
  const opened = new Set<string>();
  for (const [id, other] of fittedTechniques) if (other.technique.needs.includes(technique)) opened.add(id);
  const uses = layout.choices.flatMap(({ options }) => options.map(({ use }) => use));
  const items = new Set(uses.flatMap((use) => (use.technique === technique && use.take ? [use.take] : [])));
  for (const use of uses)
    if (use.with !== undefined && items.has(use.with) && use.technique !== technique)
      opened.add(use.technique);
  return [...opened].sort(compareCodeUnits);
}

/** What keeps each technique from being practised. A technique that is tried in runs waits for nothing. */
export function obstacles(
  prepared: PreparedModel,
  leftOut: ReadonlySet<string>,
): ReadonlyMap<string, Obstacle> {
  const { fittedTechniques } = prepared;
  const found = new Map<string, Obstacle>(
    needFaults([...fittedTechniques.values()].map(({ technique }) => technique)),
  );
  for (const [id, subject] of fittedTechniques) {
    if (found.has(id) || subject.technique.state === 'in-run') continue;
    const open = subject.technique.needs.filter(
      (need) => !isReadyFor(fittedTechniques.get(need)!, subject, prepared),
    );
    const [need] = [...open.filter((id) => leftOut.has(id)), ...open.sort(compareCodeUnits)];
    if (need !== undefined) found.set(id, { kind: leftOut.has(need) ? 'left out' : 'not ready', need });
  }
  return found;
}
