/**
 * Every number that the model depends on, with its unit and its source.
 *
 * Model functions take a `Constants` object, so that a runner can override any of them and tests can vary them.
 */

/** The numbers of the model. See {@link constantNotes} for the unit and the source of each. */
export interface Constants {
  readonly unitPractice: number;
  readonly daySaturation: number;
  readonly overnightGain: number;
  readonly halfLife: number;
  readonly concentration: number;
  readonly rateFloor: number;
  readonly midwayAtEasiest: number;
  readonly midwayPerStep: number;
  readonly midwayPerStepSd: number;
  readonly midwaySd: number;
  readonly offsetSd: number;
  readonly pressureMean: number;
  readonly pressureSd: number;
  readonly ownPressureSd: number;
  readonly formSd: number;
  readonly coldStartSd: number;
  readonly steepness: readonly number[];
  readonly steepnessWeights: readonly number[];
  readonly exponentialWeight: number;
  readonly ceilings: readonly number[];
  readonly ceilingWeights: readonly number[];
  readonly floors: readonly number[];
  readonly floorWeights: readonly number[];
  readonly headStarts: readonly number[];
  readonly headStartWeights: readonly number[];
  readonly midwayLow: number;
  readonly midwayHigh: number;
  readonly midwayStep: number;
  readonly lossStep: number;
  readonly clockWeight: number;
  readonly horizonBlocks: number;
  readonly readyRate: number;
}

/** The values used unless the runner overrides them. */
export const defaultConstants: Constants = {
  unitPractice: 10,
  daySaturation: 207,
  overnightGain: 0.2,
  halfLife: 195,
  concentration: 40,
  rateFloor: 1e-4,
  midwayAtEasiest: 0.3,
  midwayPerStep: 0.55,
  midwayPerStepSd: 0.2,
  midwaySd: 1,
  offsetSd: 0.7,
  pressureMean: 0.4,
  pressureSd: 0.4,
  ownPressureSd: 0.7,
  formSd: 0.3,
  coldStartSd: 0.6,
  steepness: [0.6, 0.9, 2.5, 7, 20],
  steepnessWeights: [0.15, 0.25, 0.15, 0.15, 0.1],
  exponentialWeight: 0.2,
  ceilings: [1, 0.88, 0.72, 0.5],
  ceilingWeights: [0.2, 0.35, 0.25, 0.2],
  floors: [0, 0.02, 0.06, 0.15],
  floorWeights: [0.4, 0.2, 0.25, 0.15],
  headStarts: [0, 2.5, 4.5, 6.5, 8.5],
  headStartWeights: [0.2, 0.2, 0.2, 0.2, 0.2],
  midwayLow: -5,
  midwayHigh: 10,
  midwayStep: 0.25,
  lossStep: 0.4,
  clockWeight: 0.01,
  horizonBlocks: 28,
  readyRate: 0.5,
};

/** What a constant is measured in, what it stands for, and where its value comes from. */
export interface ConstantNote {
  readonly unit: string;
  readonly meaning: string;
  readonly source: string;
}

const chosen = 'chosen for this model';

/** Unit, meaning and source of every constant, for documentation and for the screens that show them. */
export const constantNotes: Readonly<Record<keyof Constants, ConstantNote>> = {
  unitPractice: { unit: 'attempts', meaning: 'practice that counts as one unit', source: chosen },
  daySaturation: {
    unit: 'minutes',
    meaning: 'practice of one technique in one day after which a further minute counts for 1/e',
    source:
      'least-squares fit to the hours of Baddeley & Longman 1978 relative to one hour a day (figures from memory)',
  },
  overnightGain: {
    unit: "share of the day's dose",
    meaning: 'what a night adds',
    source:
      'common practice, no source; contested: Walker 2002 reports +20 % speed, Rickard 2008 and Pan & Rickard 2015 find none after controls',
  },
  halfLife: {
    unit: 'days',
    meaning: 'time in which half of an unused log gain is lost; people relearn faster than this says',
    source: 'Tatel & Ackerman, doi 10.1037/bul0000481: half of gains in accuracy lost at about 6.5 months',
  },
  concentration: {
    unit: 'attempts',
    meaning: 'how much one day is like another at a rate of one half (beta-binomial); more at other rates',
    source: chosen,
  },
  rateFloor: { unit: 'fraction', meaning: 'least distance of a landing rate from 0 and 1', source: chosen },
  midwayAtEasiest: {
    unit: 'ln(1 + E/unit)',
    meaning: 'practice to half-way at difficulty 1',
    source: chosen,
  },
  midwayPerStep: {
    unit: 'ln(1 + E/unit)',
    meaning: 'more practice to half-way for each step of difficulty',
    source: chosen,
  },
  midwayPerStepSd: {
    unit: 'ln(1 + E/unit)',
    meaning: 'how far runners, and those who rate difficulties, differ in that',
    source: chosen,
  },
  midwaySd: {
    unit: 'ln(1 + E/unit)',
    meaning: 'how far techniques of one difficulty differ',
    source: chosen,
  },
  offsetSd: {
    unit: 'ln(1 + E/unit)',
    meaning: 'how far runners differ from the difficulty scale',
    source: chosen,
  },
  pressureMean: { unit: 'logit', meaning: 'usual loss in a run against practice', source: chosen },
  pressureSd: { unit: 'logit', meaning: 'how far runners differ in that loss', source: chosen },
  ownPressureSd: { unit: 'logit', meaning: 'how far techniques differ in that loss', source: chosen },
  formSd: {
    unit: 'logit',
    meaning:
      'how far days differ for all techniques together: the form of the day; 0 takes all days to be alike',
    source: chosen,
  },
  coldStartSd: {
    unit: 'logit',
    meaning: 'how much less the first try of a block lands than the others; 0 takes all tries to be alike',
    source: chosen,
  },
  steepness: { unit: 'logit per ln(1 + E/unit)', meaning: 'how suddenly a technique comes', source: chosen },
  steepnessWeights: { unit: 'share', meaning: 'prior weight of each steepness', source: chosen },
  exponentialWeight: {
    unit: 'share',
    meaning: 'prior weight of curves on which each attempt closes the same share of the gap to the ceiling',
    source:
      'chosen; single learners follow an exponential better than a power law (Heathcote, Brown & Mewhort 2000, Psychonomic Bulletin & Review 7)',
  },
  ceilings: {
    unit: 'fraction',
    meaning: 'landing rate after endless practice: the first exactly, or anywhere between two neighbours',
    source: chosen,
  },
  ceilingWeights: {
    unit: 'share',
    meaning: 'prior weight of the first ceiling, and of the bands between it and each next one',
    source: chosen,
  },
  floors: {
    unit: 'fraction',
    meaning: 'lucky landings before any practice: the first exactly, or anywhere between two neighbours',
    source: chosen,
  },
  floorWeights: {
    unit: 'share',
    meaning: 'prior weight of the first floor, and of the bands between it and each next one',
    source: chosen,
  },
  headStarts: {
    unit: 'ln(1 + E/unit)',
    meaning:
      'practice before the logs began, for what was in the run from the first: none to 50,000 attempts',
    source: chosen,
  },
  headStartWeights: { unit: 'share', meaning: 'prior weight of each head start', source: chosen },
  midwayLow: { unit: 'ln(1 + E/unit)', meaning: 'low end of the grid of half-way points', source: chosen },
  midwayHigh: { unit: 'ln(1 + E/unit)', meaning: 'high end of the grid of half-way points', source: chosen },
  midwayStep: {
    unit: 'ln(1 + E/unit)',
    meaning: 'widest step of that grid; halved where the curve is steep',
    source: chosen,
  },
  lossStep: { unit: 'logit', meaning: 'step of the grid of the loss in a run', source: chosen },
  clockWeight: {
    unit: 'seconds per second',
    meaning: 'worth of a second of clock time lost to resets against a second off the finished run',
    source: 'chosen; between 1/24 and 1/660 by the odds on typical routes',
  },
  horizonBlocks: { unit: 'daily blocks', meaning: 'how far practice is forecast', source: chosen },
  readyRate: {
    unit: 'fraction',
    meaning: 'mean landing rate in practice from which a technique can carry those that need it',
    source: chosen,
  },
};

/** Smallest and largest value of an override. A value outside this range is replaced by the nearer bound. */
const bounds: Readonly<Partial<Record<keyof Constants, readonly [number, number]>>> = {
  unitPractice: [0.1, 1e6],
  daySaturation: [1, 1e6],
  overnightGain: [0, 10],
  halfLife: [0.1, 1e6],
  concentration: [0.5, 1e9],
  rateFloor: [1e-9, 0.01],
  midwayPerStepSd: [0, 3],
  midwaySd: [0.05, 3],
  offsetSd: [0.01, 3],
  pressureSd: [0.01, 3],
  ownPressureSd: [0.05, 3],
  formSd: [0, 0.5],
  coldStartSd: [0, 3],
  exponentialWeight: [0, 1],
  midwayLow: [-12, 0],
  midwayHigh: [5, 20],
  midwayStep: [0.03125, 0.5],
  lossStep: [0.05, 0.8],
  clockWeight: [0, 1],
  horizonBlocks: [1, 365],
  readyRate: [0.01, 0.99],
};

/**
 * The default constants, replaced by the runner's own values where the runner gives any.
 *
 * An override that is not a finite number is ignored; one outside the range in which the model can be computed is
 * replaced by the nearer bound. Lists are replaced only by lists of the same length.
 *
 * @example
 * resolveConstants({ halfLife: 100 }).halfLife // 100
 * resolveConstants({ halfLife: -3 }).halfLife // 0.1
 * resolveConstants({ halfLife: NaN }).halfLife // 195
 */
export function resolveConstants(overrides: Partial<Constants> = {}): Constants {
  const single: Record<string, number> = {};
  const lists: Record<string, readonly number[]> = {};
  for (const name of Object.keys(defaultConstants) as (keyof Constants)[]) {
    const usual = defaultConstants[name];
    const wanted = overrides[name];
    if (typeof usual === 'number') {
      const [low, high] = bounds[name] ?? [-1e6, 1e6];
      const usable = typeof wanted === 'number' && Number.isFinite(wanted) ? wanted : usual;
      single[name] = Math.min(high, Math.max(low, usable));
    } else {
      const usable =
        Array.isArray(wanted) && wanted.length === usual.length && wanted.every((v) => Number.isFinite(v));
      lists[name] = usable ? (wanted as readonly number[]) : usual;
    }
  }
  return { ...defaultConstants, ...single, ...lists };
}
