import type { Standing } from '../../server/src/model/core/standing.ts';

/** A standing for tests that make up what the model says: being learned, unless given otherwise. */
export function standing(technique: string, given: Partial<Standing> = {}): Standing {
  return {
    technique,
    kind: 'learning',
    since: null,
    cause: { why: 'practised', days: 3, minutes: 75 },
    chancePays: 0.5,
    breakEven: 0.5,
    runNow: 0.4,
    tried: false,
    worthTrying: false,
    ...given,
  };
}

/** A standing that follows from the chance that trying pays, asked 80 %, of a technique that is being learned. */
export function standingOfChance(technique: string, chancePays: number, tried = false): Standing {
  if (chancePays >= 0.8)
    return standing(technique, { kind: 'in-run', cause: { why: 'competent' }, chancePays, tried });
  if (tried && chancePays <= 0.2)
    return standing(technique, { kind: 'again', cause: { why: 'costs time' }, chancePays, tried });
  return standing(technique, { chancePays, tried });
}
