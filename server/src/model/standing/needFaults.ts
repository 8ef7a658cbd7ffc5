/** Checks the `needs` of techniques: references to unknown ids, and loops. */
import type { NeedFault } from '../core/standing.ts';
import type { TechniqueModel } from '../core/types.ts';

/**
 * The faults in the `needs` of the techniques, by technique: a need that is not the id of any technique, or a loop
 * of needs that contains the technique (listed from the technique back to itself).
 */
export function needFaults(techniques: readonly TechniqueModel[]): Map<string, NeedFault> {
  const byId = new Map(techniques.map((t) => [t.id, t]));
  const faults = new Map<string, NeedFault>();
  for (const { id, needs } of techniques) {
    const loop = loopThrough(id, byId);
    const unknown = needs.find((need) => !byId.has(need));
    if (loop !== null) faults.set(id, { kind: 'loop', loop });
    else if (unknown !== undefined) faults.set(id, { kind: 'unknown', need: unknown });
  }
  return faults;
}

/** The shortest path from a technique along its needs back to itself; null if there is none. */
function loopThrough(id: string, byId: ReadonlyMap<string, TechniqueModel>): string[] | null {
  const cameFrom = new Map<string, string>();
  const queue = [id];
  for (const at of queue) {
    for (const need of byId.get(at)?.needs ?? []) {
      if (need === id) {
        const back = [id];
        for (let step: string | undefined = at; step !== undefined; step = cameFrom.get(step))
          back.push(step);
        return back.reverse();
      }
      if (cameFrom.has(need)) continue;
      cameFrom.set(need, at);
      queue.push(need);
    }
  }
  return null;
}
