/**
 * Runners drawn from the model's prior whose days differ in form: on a day of form z every technique lands with log odds that
 * are z greater. Curves and counts are drawn by formulas written here; the effective practice is computed by the project's own
 * code, since it follows from the logs and is not inferred.
 */
import { defaultConstants as usual } from '../../server/src/model/core/constants.ts';
import type { RankInput } from '../../server/src/model/run/preparedModel.ts';
import { applyPractice, practiceLevel, unpractised } from '../../server/src/model/skill/practiceState.ts';
import type { PracticeEntry, RunEntry, TechniqueModel } from '../../server/src/model/core/types.ts';
import { chance } from '../arena/random.ts';
import type { Chance } from '../arena/random.ts';
import { plainOptions, route, segment, technique, use } from './invented.ts';
import { drawCurve, drawLearner, pick } from './priorCurves.ts';

export interface FormRunnerOptions {
  /** Standard deviation of the form of the day, log odds. */
  readonly spread: number;
  readonly techniques: number;
  readonly days: number;
  /** Techniques practised on one day, by turns. */
  readonly each: number;
  /** Tries of each of them. */
  readonly tries: number;
  /** Days between two evenings of runs, with ten tries of each technique; none if omitted. */
  readonly runsEvery?: number;
  /** How alike a technique's own days are, as a multiple of what is usual; drawn from the prior if omitted. */
  readonly alike?: number;
}

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));
const logit = (p: number): number => Math.log(p / (1 - p));
const kept = (rate: number): number => Math.min(1 - usual.rateFloor, Math.max(usual.rateFloor, rate));

/** A beta-binomial count by Pólya's urn: every draw adds one more of its kind. */
function urn(mean: number, concentration: number, tries: number, random: Chance): number {
  let landed = 0;
  for (let drawn = 0; drawn < tries; drawn++)
    if (random.next() < (concentration * mean + landed) / (concentration + drawn)) landed++;
  return landed;
}

/** The logs of one runner, from a seed. */
export function formRunner(seed: number, options: FormRunnerOptions): RankInput {
  const random = chance(seed);
  const offset = usual.offsetSd * random.normal();
  const pressure = usual.pressureMean + usual.pressureSd * random.normal();
  const learner = drawLearner(() => random.next());
  const alike = options.alike ?? pick([0.3, 1, 4], [0.25, 0.5, 0.25], () => random.next());
  const practice: PracticeEntry[] = [];
  const runs: RunEntry[] = [];
  const drawn = Array.from({ length: options.techniques }, (_, i) => {
    const difficulty = random.whole(1, 8);
    const mean = usual.midwayAtEasiest + usual.midwayPerStep * (difficulty - 1) - offset;
    return {
      model: technique(`t${i}`, {
        difficulty,
        state: options.runsEvery === undefined ? 'learning' : 'in-run',
      }),
      midway: mean + usual.midwaySd * random.normal(),
      curve: drawCurve(learner, () => random.next()),
      loss: pressure + usual.ownPressureSd * random.normal(),
      state: unpractised,
    };
  });
  for (let day = 0; day < options.days; day++) {
    const form = options.spread * random.normal();
    const count = (rate: number, tries: number) => {
      const mean = kept(logistic(logit(kept(rate)) + form));
      const concentration = (alike * usual.concentration) / (4 * mean * (1 - mean));
      return { landed: urn(mean, concentration, tries, random), tries };
    };
    for (let n = 0; n < options.each; n++) {
      const own = drawn[(day * options.each + n) % drawn.length]!;
      const { state, added } = applyPractice(own.state, day, options.tries, 20, usual);
      own.state = state;
      const rate = own.curve.rateAt(practiceLevel(state.effective - added / 2, usual) - own.midway);
      const counted = count(rate, options.tries);
      practice.push({
        technique: own.model.id,
        day,
        order: n,
        minutes: 20,
        attempts: options.tries,
        counted,
      });
    }
    if (options.runsEvery === undefined || day % options.runsEvery !== options.runsEvery - 1) continue;
    for (const own of drawn) {
      if (own.state === unpractised) continue;
      const { state, added } = applyPractice(own.state, day, 10, 0, usual);
      own.state = state;
      const rate = own.curve.rateAt(practiceLevel(state.effective - added / 2, usual) - own.midway);
      const inRun = logistic(logit(kept(rate)) - own.loss);
      runs.push({ technique: own.model.id, day, order: 1000, counted: count(inRun, 10) });
    }
  }
  const techniques: TechniqueModel[] = drawn.map(({ model }) => model);
  return {
    route: route([segment('a', 100, techniques.map(({ id }) => use(id, 4, 2)))], techniques), // prettier-ignore
    logs: { practice, runs },
    asOfDay: options.days,
    options: plainOptions,
  };
}
