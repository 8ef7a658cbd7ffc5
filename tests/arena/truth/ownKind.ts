/** Runners of the model's own kind: curves, practice and noise drawn from its prior. */
import { defaultConstants as constants } from '../../../server/src/model/index.ts';
import {
  practiceLevel,
  stateOnMorning,
  applyPractice,
} from '../../../server/src/model/skill/practiceState.ts';
import type { Chance } from '../random.ts';
import type { Skill } from '../world.ts';
import { fresh, logistic, logit, progressFor } from './truth.ts';
import type { Learning, Progress, Truth } from './truth.ts';

function pick(values: readonly number[], weights: readonly number[], random: Chance): number {
  let left = random.next() * weights.reduce((a, b) => a + b, 0);
  for (let i = 0; i < values.length; i++) {
    left -= weights[i]!;
    if (left < 0) return values[i]!;
  }
  return values.at(-1)!;
}

function learningOf(skill: Skill, offset: number, pressure: number, random: Chance): Learning {
  const midway =
    constants.midwayAtEasiest +
    constants.midwayPerStep * (skill.difficulty - 1) -
    offset +
    constants.midwaySd * random.normal();
  const steepness = pick(constants.steepness, constants.steepnessWeights, random);
  const ceiling = pick(constants.ceilings, constants.ceilingWeights, random);
  const floor = pick(constants.floors, constants.floorWeights, random);
  const rateAt = (effective: number): number => {
    const learned = logistic(steepness * (practiceLevel(effective, constants) - midway));
    const rate = floor + (ceiling - floor) * learned;
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
export function ownKind(skills: readonly Skill[], random: Chance): Truth {
  const offset = constants.offsetSd * random.normal();
  const pressure = constants.pressureMean + constants.pressureSd * random.normal();
  return {
    learnings: skills.map((skill) => learningOf(skill, offset, pressure, random)),
    dayShift: (rate, day) => {
      const mean = Math.min(0.999, Math.max(0.001, rate));
      const today = day.beta(mean * constants.concentration, (1 - mean) * constants.concentration);
      return logit(today) - logit(mean);
    },
  };
}
