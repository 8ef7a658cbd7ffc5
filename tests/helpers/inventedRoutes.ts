/** Whole model inputs from a seed: routes with every kind of entry that a route can have, and logs. */
import type { RankInput, UseModel } from '../../server/src/model/index.ts';
import { chance } from '../arena/random.ts';
import { block, plainOptions, route, runTries, segment, technique, use } from './invented.ts';

/**
 * A route with every kind of entry that a route can have, and logs. No two numbers are equal, so that there are no
 * ties.
 */
export function inventRankInput(seed: number): RankInput {
  const random = chance(seed);
  const ids = Array.from({ length: random.whole(4, 7) }, (_, i) => `t${i}`);
  const techniques = ids.map((id, i) =>
    technique(id, {
      difficulty: random.between(1, 10),
      needs: ids.slice(0, i).filter(() => random.next() < 0.15),
      attemptSeconds: random.between(1, 12),
      reloadSeconds: random.between(0, 3),
      state: random.next() < 0.3 ? 'in-run' : 'unlearned',
    }),
  );
  const anyUse = (id: string, u: number, s: number): UseModel => {
    const kind = random.whole(0, 5);
    const other = ids[random.whole(0, ids.length - 1)]!;
    return use(id, random.between(0.5, 12), random.between(0.1, 6), {
      id: `${id}@${s}-${u}`,
      saves: { mean: random.between(0.5, 12), sd: random.between(0, 2) },
      ...(kind === 1 && { retrySeconds: random.between(0.5, 4), maxTries: 3 }),
      ...(kind === 2 && { misses: [{ chance: 1, loses: 0, endsRun: true }] }),
      ...(kind === 3 && { spot: 'gate' }),
      ...(kind === 4 && other !== id && { backup: other }),
      // The item is picked up in one place only, a segment before the use that needs it, so that the order within a
      // segment does not matter.
      ...(kind === 5 && s > 0 && { with: 'oil' }),
      ...(s === 0 && u === 0 && { take: 'oil', costs: random.between(1, 5) }),
    });
  };
  const segments = [0, 1, 2].map((s) =>
    segment(
      `s${s}`,
      random.between(40, 200),
      ids.filter(() => random.next() < 0.5).map((id, u) => anyUse(id, u, s)),
      {
        survive: random.between(0.9, 1),
        luck: [{ chance: random.between(0, 1), adds: random.between(1, 9) }],
      },
    ),
  );
  const practice = Array.from({ length: random.whole(0, 12) }, (_, order) => {
    const tries = random.whole(20, 150);
    const of = ids[random.whole(0, ids.length - 1)]!;
    return block(of, random.whole(0, 9), random.whole(0, tries), tries, {
      order,
      minutes: random.between(4, 30),
    });
  });
  const runs = Array.from({ length: random.whole(0, 8) }, (_, order) => {
    const tries = random.whole(1, 12);
    const of = ids[random.whole(0, ids.length - 1)]!;
    return { ...runTries(of, random.whole(0, 9), random.whole(0, tries), tries), order: 100 + order };
  });
  return {
    route: route(segments, techniques),
    logs: { practice, runs },
    asOfDay: 11,
    options: { ...plainOptions, all: random.next() < 0.5 },
    constants: { horizonBlocks: 14 },
  };
}
