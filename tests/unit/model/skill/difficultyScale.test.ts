/** What the logs say of the scale of difficulties, against the same worked out from the curves anew at each scale. */
import { describe, expect, it } from 'vitest';
import { MemoCache } from '../../../../server/src/incremental/memoCache.ts';
import { resolveConstants } from '../../../../server/src/model/core/constants.ts';
import type { Constants } from '../../../../server/src/model/core/constants.ts';
import { logistic } from '../../../../server/src/model/core/numbers.ts';
import type { PracticeEntry, TechniqueModel } from '../../../../server/src/model/core/types.ts';
import { curveGrid } from '../../../../server/src/model/skill/curveGrid.ts';
import { CountTables } from '../../../../server/src/model/skill/countTables.ts';
import { learnScale } from '../../../../server/src/model/skill/difficultyScale.ts';
import { gatherEvidence, lossGrid } from '../../../../server/src/model/skill/evidence.ts';
import { readHistory } from '../../../../server/src/model/skill/practiceHistory.ts';
import { dose, practiceLevel } from '../../../../server/src/model/skill/practiceState.ts';
import { inferRunner } from '../../../../server/src/model/skill/runnerPosterior.ts';
import { block, technique } from '../../../helpers/invented.ts';

const usual = resolveConstants();
const grid = curveGrid(usual);
const losses = lossGrid(usual);

/** Four days of a block on techniques of every difficulty, whose half-way points rise by `slope` a step; without luck. */
function practised(slope: number, count: number) {
  const techniques: TechniqueModel[] = [];
  const practice: PracticeEntry[] = [];
  for (let i = 0; i < count; i++) {
    const difficulty = 1 + (i * 9) / (count - 1);
    const id = `t${i}`;
    const midway = usual.midwayAtEasiest + 4.5 * usual.midwayPerStep + slope * (difficulty - 5.5);
    techniques.push(technique(id, { difficulty }));
    let effective = 0;
    for (let day = 0; day < 4; day++) {
      const added = dose(80, 10, 0, usual);
      const rate = logistic(1.4 * (practiceLevel(effective + added / 2, usual) - midway));
      practice.push(block(id, day, Math.round(80 * rate), 80, { minutes: 10 }));
      effective += added * (1 + usual.overnightGain);
    }
  }
  return membersOf(techniques, practice);
}

function membersOf(techniques: readonly TechniqueModel[], practice: readonly PracticeEntry[]) {
  return techniques.map((one) => {
    const own = practice.filter((entry) => entry.technique === one.id);
    const { days } = readHistory(one, own, [], usual);
    return {
      difficulty: one.difficulty,
      evidence: gatherEvidence(days, one, grid, losses, usual, new CountTables(usual)),
    };
  });
}

const learned = (members: ReturnType<typeof membersOf>, constants = usual): Constants =>
  learnScale(members, grid, losses, constants, new MemoCache());

/** The logarithm of the chance of all counts at a scale, every technique compared with its curves at that scale. */
function logChance(members: ReturnType<typeof membersOf>, perStep: number): number {
  const constants = resolveConstants({
    midwayPerStep: perStep,
    midwayAtEasiest: usual.midwayAtEasiest + 4.5 * (usual.midwayPerStep - perStep),
  });
  const { runnerLikelihoods, offsets, pressures } = inferRunner(members, grid, losses, constants);
  const shares = Array.from(offsets, (u) => Math.exp(-0.5 * (u / constants.offsetSd) ** 2)).flatMap((share) =>
    Array.from(
      pressures,
      (k) => share * Math.exp(-0.5 * ((k - constants.pressureMean) / constants.pressureSd) ** 2),
    ),
  );
  const width = (offsets[1]! - offsets[0]!) * (pressures[1]! - pressures[0]!);
  const logs = grid.learnerShares.flatMap((share, kind) =>
    shares.map((cell, i) =>
      runnerLikelihoods.reduce(
        (sum, likelihood) => sum + likelihood!.log[kind * shares.length + i]!,
        Math.log(share * cell * width),
      ),
    ),
  );
  const top = Math.max(...logs);
  return top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
}

describe('the scale of difficulties', () => {
  it.each([
    [0.15, 14],
    [0.55, 14],
    [0.9, 14],
    [0.15, 6],
  ])('with steps of %d on %d techniques is the mean over the scales, each compared anew', (slope, count) => {
    const members = practised(slope, count);
    const steps = Array.from({ length: 12 }, (_, i) => i - 5);
    const logs = steps.map(
      (step) => logChance(members, 0.55 + step * 0.1) - 0.5 * ((step * 0.1) / usual.midwayPerStepSd) ** 2,
    );
    const top = Math.max(...logs);
    const weights = logs.map((log) => Math.exp(log - top));
    const total = weights.reduce((a, b) => a + b, 0);
    const mean = steps.reduce((sum, step, i) => sum + (step * weights[i]!) / total, 0);
    // The answer is rounded to fifths; the mean itself may be off by a tenth of that.
    expect(Math.abs(learned(members).midwayPerStep - (0.55 + mean * 0.1))).toBeLessThan(0.12);
  });

  it('comes near to the true one with many techniques, and keeps the middle of the scale', () => {
    const { midwayPerStep, midwayAtEasiest } = learned(practised(0.15, 20));
    expect(midwayPerStep).toBeLessThan(0.36);
    expect(midwayAtEasiest + 4.5 * midwayPerStep).toBeCloseTo(0.3 + 4.5 * 0.55, 9);
  });

  it('is the usual one, and the same object, where counts say nothing else', () => {
    expect(learned(practised(0.55, 14))).toBe(usual);
    expect(
      learned(membersOf([technique('a', { difficulty: 2 })], [block('a', 0, 5, 80, { minutes: 10 })])),
    ).toBe(usual);
    expect(learned([])).toBe(usual);
  });

  it('is not learned where the runner is sure of it', () => {
    const sure = resolveConstants({ midwayPerStepSd: 0 });
    expect(learned(practised(0.15, 14), sure)).toBe(sure);
  });
});
