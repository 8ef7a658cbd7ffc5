/** Runners of the model's own kind: curves, practice and noise drawn from its prior. */
import { defaultConstants as constants } from '../../../server/src/model/index.ts';
import {
  practiceLevel,
  stateOnMorning,
  applyPractice,
} from '../../../server/src/model/skill/practiceState.ts';
import { dayConcentration, drawCurve, drawLearner } from '../../helpers/priorCurves.ts';
import type { LearnerKind } from '../../../server/src/model/skill/learnerKinds.ts';
import { chance, seedOf } from '../random.ts';
import type { Chance } from '../random.ts';
import type { Skill } from '../world.ts';
import { fresh, logit, progressFor } from './truth.ts';
import type { Learning, MakeTruth, Progress, Truth } from './truth.ts';

/** The difficulty at which every slope gives the same half-way point. */
const middle = 5.5;

/** How one runner meets one technique, apart from their pace and their loss under pressure. */
export interface Drawn {
  /** Standard normal: the half-way point, the loss in runs. */
  readonly midway: number;
  readonly loss: number;
  readonly curve: ReturnType<typeof drawCurve>;
}

function draw(kind: LearnerKind, random: Chance): Drawn {
  return { midway: random.normal(), curve: drawCurve(kind, () => random.next()), loss: random.normal() };
}

/** The learning of a technique as it was drawn. `known` says how far a technique got that was learned long ago, 0.6 to 0.95. */
export function learningOf(
  skill: Skill,
  slope: number,
  { offset, pressure }: Runner,
  { midway: own, loss, curve }: Drawn,
  known: number,
): Learning {
  const midway =
    constants.midwayAtEasiest +
    constants.midwayPerStep * (middle - 1) +
    slope * (skill.difficulty - middle) -
    offset +
    constants.midwaySd * own;
  const { ceiling } = curve;
  const rateAt = (effective: number): number => {
    const rate = curve.rateAt(practiceLevel(effective, constants) - midway);
    return Math.min(1 - constants.rateFloor, Math.max(constants.rateFloor, rate));
  };
  const state = (at: Progress) => ({
    effective: at.gained,
    pending: at.today,
    minutesToday: at.minutes,
    day: 0,
  });
  return {
    practise: (at, attempts, minutes) => {
      const { state: after } = applyPractice(state(at), 0, attempts, minutes, constants);
      return { gained: after.effective, today: after.pending, minutes: after.minutesToday, idle: 0 };
    },
    night: (at) => ({
      gained: stateOnMorning(state(at), at.idle === 0 ? 1 : 2, constants).effective,
      today: 0,
      minutes: 0,
      idle: at.idle + 1,
    }),
    rate: (at) => rateAt(at.gained),
    loss: pressure + constants.ownPressureSd * loss,
    known: { ...fresh, idle: 1, gained: progressFor(rateAt, known * ceiling, 1e5) },
  };
}

/** A runner drawn from the prior, with the offset and the pressure shared by all techniques. */
export const ownKind = withSlope(constants.midwayPerStep);

/** The same, but a step of difficulty moves the half-way point by `slope`, in ln(1 + E/unit), around the middle of the scale. */
export function withSlope(slope: number): MakeTruth {
  return (skills, random) => truthOf(skills, slope, random);
}

function truthOf(skills: readonly Skill[], slope: number, random: Chance): Truth {
  const runner = drawRunner(random);
  return {
    learnings: skills.map((skill) =>
      learningOf(skill, slope, runner, draw(runner.kind, random), random.between(0.6, 0.95)),
    ),
    dayShift: betaDays,
  };
}

/** What all techniques of a runner share. */
interface Runner {
  readonly offset: number;
  readonly pressure: number;
  readonly kind: LearnerKind;
}

function drawRunner(random: Chance): Runner {
  return {
    offset: constants.offsetSd * random.normal(),
    pressure: constants.pressureMean + constants.pressureSd * random.normal(),
    kind: drawLearner(() => random.next()),
  };
}

/** Days whose rates are beta-distributed around the mean, as the model has it. */
const betaDays: Truth['dayShift'] = (rate, day) => {
  const mean = Math.min(0.999, Math.max(0.001, rate));
  const concentration = dayConcentration(mean);
  const today = day.beta(mean * concentration, (1 - mean) * concentration);
  return logit(today) - logit(mean);
};

/**
 * Runners of one route who have part of what is hard about a technique in common: that share of the variance of its half-way point
 * and of its loss in runs; and with that chance a runner meets it with the curve (suddenness, ceiling, floor) that all have who do.
 */
export function withCommon(share: number, routeSeed: number): MakeTruth {
  return (skills, random) => {
    const { runner, drawn } = drawWithCommon(share, routeSeed, skills.length, random);
    const learnings = skills.map((skill, i) =>
      learningOf(skill, constants.midwayPerStep, runner, drawn[i]!, random.between(0.6, 0.95)),
    );
    return { learnings, dayShift: betaDays };
  };
}

/** How a runner meets each technique of a route that others run, too. */
export function drawWithCommon(share: number, routeSeed: number, techniques: number, random: Chance) {
  const runner = drawRunner(random);
  const mixed = (common: number, own: number): number =>
    Math.sqrt(share) * common + Math.sqrt(1 - share) * own;
  const drawn = Array.from({ length: techniques }, (_, i): Drawn => {
    const shared = commonOf(routeSeed, i);
    const own = draw(runner.kind, random);
    return {
      midway: mixed(shared.midway, own.midway),
      loss: mixed(shared.loss, own.loss),
      curve: random.next() < share ? shared.curve : own.curve,
    };
  });
  return { runner, drawn };
}

/** What runners of a route have in common of a technique. */
export function commonOf(routeSeed: number, technique: number): Drawn {
  const random = chance(seedOf(routeSeed, 18, technique));
  return draw(
    drawLearner(() => random.next()),
    random,
  );
}
