/**
 * Runners drawn from the model's prior, with the logs they would write: a correct posterior is calibrated on them. The
 * curves and the counts are drawn by formulas written here. The effective practice is computed by the project's own
 * code, since it follows from the logs and is not inferred.
 */
import { defaultConstants as usual } from '../../server/src/model/core/constants.ts';
import {
  practiceLevel,
  stateOnMorning,
  applyPractice,
  unpractised,
} from '../../server/src/model/skill/practiceState.ts';
import type { PracticeState } from '../../server/src/model/skill/practiceState.ts';
import type { RankInput } from '../../server/src/model/run/preparedModel.ts';
import type {
  AttemptCount,
  PracticeEntry,
  RunEntry,
  TechniqueModel,
} from '../../server/src/model/core/types.ts';
import { chance } from '../arena/random.ts';
import type { Chance } from '../arena/random.ts';
import { dayConcentration, drawCurve, drawLearner } from './priorCurves.ts';
import type { LearnerKind } from '../../server/src/model/skill/learnerKinds.ts';
import { plainOptions, route, segment, technique, use } from './invented.ts';

/** What the logs hold of a technique: practice, practice and runs, nothing, or runs before practice. */
export type Kind = 'practised' | 'both' | 'never' | 'head start';

/** The true parameters of one technique, which the model does not see. */
export interface Truth {
  readonly id: string;
  readonly kind: Kind;
  /** Half-way point of the curve, in ln(1 + E/unit). */
  readonly midway: number;
  /** Landing rate in practice on the morning of the model input. */
  readonly practiceNow: number;
  /** Log odds of landing in a run on that morning. */
  readonly runLogit: number;
}

export interface PriorRunner {
  readonly offset: number;
  readonly pressure: number;
  readonly truths: readonly Truth[];
  readonly input: RankInput;
}

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));
const logit = (p: number): number => Math.log(p / (1 - p));
const kept = (rate: number): number => Math.min(1 - usual.rateFloor, Math.max(usual.rateFloor, rate));

function pick(values: readonly number[], weights: readonly number[], random: Chance): number {
  let left = random.next();
  return values.find((_, i) => (left -= weights[i]!) < 0) ?? values.at(-1)!;
}

/**
 * Draws counts with a random rate for the day, by Pólya's urn: every draw adds one more of its kind, which gives the
 * beta-binomial.
 */
function urn(mean: number, random: Chance): (tries: number) => AttemptCount {
  let [landed, drawn] = [0, 0];
  const alike = dayConcentration(mean);
  return (tries) => {
    const before = landed;
    for (let i = 0; i < tries; i++, drawn++) {
      const share = (alike * mean + landed) / (alike + drawn);
      if (random.next() < share) landed++;
    }
    return { landed: landed - before, tries };
  };
}

/** Draws the days with practice and the days with runs of a technique of each kind. */
function daysOf(kind: Kind, random: Chance): { readonly practice: number[]; readonly runs: number[] } {
  const some = (share: number): number[] =>
    Array.from({ length: 12 }, (_, day) => day).filter(() => random.next() < share);
  if (kind === 'never') return { practice: [], runs: [] };
  if (kind === 'practised') return { practice: some(0.5), runs: [] };
  if (kind === 'both') return { practice: some(0.4), runs: some(0.3).map((day) => day + 3) };
  // Runs come before practice: only they show a head start.
  return { practice: some(0.3).map((day) => day + 4), runs: [0, ...some(0.3).map((day) => day + 1)] };
}

interface Drawn {
  readonly truth: Truth;
  readonly technique: TechniqueModel;
  readonly practice: readonly PracticeEntry[];
  readonly runs: readonly RunEntry[];
}

const asOfDay = 20;

function drawTechnique(
  id: string,
  kind: Kind,
  { offset, pressure, learner }: Pick<PriorRunner, 'offset' | 'pressure'> & { readonly learner: LearnerKind },
  random: Chance,
): Drawn {
  const difficulty = random.whole(1, 10);
  const mean = usual.midwayAtEasiest + usual.midwayPerStep * (difficulty - 1) - offset;
  const midway = mean + usual.midwaySd * random.normal();
  const started = kind === 'head start';
  const curve = drawCurve(learner, () => random.next(), started);
  const head = started ? Math.exp(pick(usual.headStarts, usual.headStartWeights, random)) : 1;
  const loss = pressure + usual.ownPressureSd * random.normal();
  const rateAt = (x: number): number => kept(curve.rateAt(Math.log(head + Math.expm1(x)) - midway));

  const days = daysOf(kind, random);
  const practice: PracticeEntry[] = [];
  const runs: RunEntry[] = [];
  let state: PracticeState = unpractised;
  for (let day = 0; day < asOfDay; day++) {
    if (days.practice.includes(day)) {
      const blocks = Array.from({ length: random.whole(1, 2) }, () => {
        const attempts = random.whole(60, 200);
        const { state: after, added } = applyPractice(state, day, attempts, 20, usual);
        state = after;
        const rate = rateAt(practiceLevel(after.effective - added / 2, usual));
        // At most half of the attempts are counted, so that a count doubled by mistake does not change the practice.
        return { attempts, rate, tries: random.whole(5, Math.floor(attempts / 2)) };
      });
      const tries = blocks.reduce((sum, b) => sum + b.tries, 0);
      const draw = urn(blocks.reduce((sum, b) => sum + (b.rate * b.tries) / tries, 0), random); // prettier-ignore
      blocks.forEach(({ attempts, tries: counted }, order) => {
        practice.push({ technique: id, day, order, minutes: 20, attempts, counted: draw(counted) });
      });
    }
    if (days.runs.includes(day)) {
      const tries = random.whole(1, 12);
      const { state: after, added } = applyPractice(state, day, tries, 0, usual);
      state = after;
      const rate = kept(logistic(logit(rateAt(practiceLevel(after.effective - added / 2, usual))) - loss));
      runs.push({ technique: id, day, order: 1000, counted: urn(rate, random)(tries) });
    }
  }
  const practiceNow = rateAt(practiceLevel(stateOnMorning(state, asOfDay, usual).effective, usual));
  return {
    truth: { id, kind, midway, practiceNow, runLogit: logit(practiceNow) - loss },
    technique: technique(id, { difficulty, state: started ? 'in-run' : 'unlearned' }),
    practice,
    runs,
  };
}

/**
 * The kinds of a runner's three techniques. Every fourth runner only has a head start, since that takes longest to
 * infer.
 */
function livesOf(seed: number): readonly Kind[] {
  return ['both', seed % 2 === 0 ? 'practised' : 'both', seed % 4 === 1 ? 'head start' : 'never'];
}

/** One runner from a seed: three techniques of different kinds, the logs, and the model input for day 20. */
export function priorRunner(seed: number): PriorRunner {
  const random = chance(seed);
  const offset = usual.offsetSd * random.normal();
  const pressure = usual.pressureMean + usual.pressureSd * random.normal();
  const learner = drawLearner(() => random.next());
  const shared = { offset, pressure, learner };
  const drawn = livesOf(seed).map((kind, i) => drawTechnique(`t${i}`, kind, shared, random));
  const uses = drawn.map(({ technique: { id } }) => use(id, 4, 2));
  return {
    offset,
    pressure,
    truths: drawn.map(({ truth }) => truth),
    input: {
      route: route(
        [segment('a', 100, uses)],
        drawn.map((d) => d.technique),
      ),
      logs: { practice: drawn.flatMap((d) => d.practice), runs: drawn.flatMap((d) => d.runs) },
      asOfDay,
      options: plainOptions,
    },
  };
}
