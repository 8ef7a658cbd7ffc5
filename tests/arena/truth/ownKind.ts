/** Runners of the model's own kind: curves, practice and noise drawn from its prior. */
import { defaultConstants as constants } from '../../../server/src/model/index.ts';
import {
  practiceLevel,
  stateOnMorning,
  applyPractice,
} from '../../../server/src/model/skill/practiceState.ts';
import { dayConcentration, drawCurve, drawLearner } from '../../helpers/priorCurves.ts';
import type { LearnerKind } from '../../../server/src/model/skill/learnerKinds.ts';
import type { Chance } from '../random.ts';
import type { Skill } from '../world.ts';
import { fresh, logit, progressFor } from './truth.ts';
import type { Learning, MakeTruth, Progress, Truth } from './truth.ts';

/** The difficulty at which every slope gives the same half-way point. */
const middle = 5.5;

function learningOf(
  skill: Skill,
  slope: number,
  offset: number,
  pressure: number,
  kind: LearnerKind,
  random: Chance,
): Learning {
  const midway =
    constants.midwayAtEasiest +
    constants.midwayPerStep * (middle - 1) +
    slope * (skill.difficulty - middle) -
    offset +
    constants.midwaySd * random.normal();
  const curve = drawCurve(kind, () => random.next());
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
    loss: pressure + constants.ownPressureSd * random.normal(),
    known: { ...fresh, idle: 1, gained: progressFor(rateAt, random.between(0.6, 0.95) * ceiling, 1e5) },
  };
}

/** A runner drawn from the prior, with the offset and the pressure shared by all techniques. */
export const ownKind = withSlope(constants.midwayPerStep);

/** The same, but a step of difficulty moves the half-way point by `slope`, in ln(1 + E/unit), around the middle of the scale. */
export function withSlope(slope: number): MakeTruth {
  return (skills, random) => truthOf(skills, slope, random);
}

function truthOf(skills: readonly Skill[], slope: number, random: Chance): Truth {
  const offset = constants.offsetSd * random.normal();
  const pressure = constants.pressureMean + constants.pressureSd * random.normal();
  const kind = drawLearner(() => random.next());
  return {
    learnings: skills.map((skill) => learningOf(skill, slope, offset, pressure, kind, random)),
    dayShift: (rate, day) => {
      const mean = Math.min(0.999, Math.max(0.001, rate));
      const concentration = dayConcentration(mean);
      const today = day.beta(mean * concentration, (1 - mean) * concentration);
      return logit(today) - logit(mean);
    },
  };
}
