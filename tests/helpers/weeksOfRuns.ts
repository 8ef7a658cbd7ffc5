/** Simulated runners over six weeks, for tests of the review: their practice and their runs. */
import { dayConcentration, drawCurve, drawLearner, pick } from './priorCurves.ts';
import type { LearnerKind } from '../../server/src/model/skill/learnerKinds.ts';
import { defaultConstants } from '../../server/src/model/core/constants.ts';
import {
  practiceLevel,
  stateOnMorning,
  applyPractice,
  unpractised,
} from '../../server/src/model/skill/practiceState.ts';
import type { PracticeState } from '../../server/src/model/skill/practiceState.ts';
import type { Logs, PracticeEntry, RouteModel, RunEntry } from '../../server/src/model/core/types.ts';
import { route, segment, technique, use } from './invented.ts';

export interface Simulated {
  readonly route: RouteModel;
  readonly logs: Logs;
  readonly asOfDay: number;
}

export interface SimulationWish {
  /** How landing rates truly change: by the model's curve, or in another way. */
  readonly truth: 'model' | 'other';
  readonly techniques: number;
  /** A technique whose rate in runs falls to this rate in the last week. */
  readonly slip?: { readonly technique: number; readonly rate: number };
}

const weeks = 6;

function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** A gamma variate for a shape above 0: a sum of exponentials, and Jöhnk's method for the fractional part. */
function gamma(shape: number, random: () => number): number {
  let sum = 0;
  let left = shape;
  for (; left >= 1; left--) sum -= Math.log(1 - random());
  while (left > 1e-12) {
    const x = random() ** (1 / left);
    const y = random() ** (1 / (1 - left));
    if (x + y <= 1) return sum + (-Math.log(1 - random()) * x) / (x + y);
  }
  return sum;
}

/** A random rate for one day: beta around the mean with the model's concentration. */
function rateOfDay(rate: number, random: () => number): number {
  const concentration = dayConcentration(Math.min(0.9999, Math.max(1e-4, rate)));
  const a = gamma(rate * concentration, random);
  const b = gamma((1 - rate) * concentration, random);
  return a / (a + b);
}

function landed(tries: number, rate: number, random: () => number): number {
  let count = 0;
  for (let i = 0; i < tries; i++) if (random() < rate) count++;
  return count;
}

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));

/** One technique's true landing rate in practice, at a state of practice and after so many attempts. */
type Truth = (state: PracticeState, attempts: number) => number;

/**
 * A curve drawn from the model's prior. A technique in the run whose first entry is a run has an unknown amount of practice from
 * before the logs, and no longer lands by luck alone.
 */
function ownKind(
  difficulty: number,
  offset: number,
  learner: LearnerKind,
  headStart: boolean,
  random: () => number,
): Truth {
  const k = defaultConstants;
  const midway =
    k.midwayAtEasiest + k.midwayPerStep * (difficulty - 1) - offset + k.midwaySd * normal(random);
  const { rateAt } = drawCurve(learner, random, headStart);
  const earlier = headStart ? Math.exp(pick(k.headStarts, k.headStartWeights, random)) : 1;
  return (state) => rateAt(Math.log(earlier + Math.expm1(practiceLevel(state.effective, k))) - midway);
}

/** A curve that is not the model's: one that saturates at a ceiling, or a constant rate. */
function otherTruth(random: () => number): Truth {
  const ceiling = 0.6 + 0.38 * random();
  if (random() < 0.5) return () => ceiling;
  const start = 0.3 * random();
  const constant = 200 + 800 * random();
  return (_, attempts) => ceiling - (ceiling - start) * Math.exp(-attempts / constant);
}

/** Six weeks: four evenings of practice on half of the techniques, two days of runs in which all are tried. */
export function simulate(wish: SimulationWish, random: () => number): Simulated {
  const constants = defaultConstants;
  const practice: PracticeEntry[] = [];
  const runs: RunEntry[] = [];
  const offset = constants.offsetSd * normal(random);
  const pressure = constants.pressureMean + constants.pressureSd * normal(random);
  const learner = drawLearner(random);
  const techniques = Array.from({ length: wish.techniques }, (_, t) => {
    const difficulty = 1 + Math.floor(5 * random());
    const practised = t % 2 === 0;
    const truth =
      wish.truth === 'model' ? ownKind(difficulty, offset, learner, !practised, random) : otherTruth(random);
    const loss =
      wish.truth === 'model' ? pressure + constants.ownPressureSd * normal(random) : 0.3 * random();
    let state = unpractised;
    let attempts = 0;
    const id = `t${t}`;
    for (let day = 0; day < 7 * weeks; day++) {
      const weekday = day % 7;
      state = stateOnMorning(state, day, constants);
      if (practised && [0, 1, 3, 4].includes(weekday)) {
        const rate = truth(state, attempts);
        const own = wish.truth === 'model' ? rateOfDay(rate, random) : rate;
        const tries = 150;
        practice.push({
          technique: id,
          day,
          order: day * 1000 + t,
          minutes: 20,
          attempts: tries,
          counted: { landed: landed(tries, own, random), tries },
        });
        ({ state } = applyPractice(state, day, tries, 20, constants));
        attempts += tries;
      }
      if (weekday < 5) continue;
      const rate = truth(state, attempts);
      const slipping = wish.slip?.technique === t && day >= 7 * (weeks - 1);
      const inRun = slipping ? wish.slip.rate : logistic(Math.log(rate / (1 - rate)) - loss);
      const own = wish.truth === 'model' ? rateOfDay(inRun, random) : inRun;
      const tries = weekday === 5 ? 4 + Math.floor(12 * random()) : 3;
      runs.push({
        technique: id,
        day,
        order: day * 1000 + 500,
        counted: { landed: landed(tries, own, random), tries },
      });
      ({ state } = applyPractice(state, day, tries, 0, constants));
      attempts += tries;
    }
    return technique(id, { difficulty, state: 'in-run' });
  });
  const segments = techniques.map(({ id }) => segment(`s-${id}`, 60, [use(id, 4, 2)]));
  return { route: route(segments, techniques), logs: { practice, runs }, asOfDay: 7 * weeks };
}
