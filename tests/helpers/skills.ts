/** Posteriors for tests that need no route. */
import { leaveOneOutPrior, skillPrior } from '../../server/src/model/skill/runnerPrior.ts';
import { resolveConstants } from '../../server/src/model/core/constants.ts';
import type { Constants } from '../../server/src/model/core/constants.ts';
import { CountTables } from '../../server/src/model/skill/countTables.ts';
import { gatherEvidence, lossGrid } from '../../server/src/model/skill/evidence.ts';
import { curveGrid, weighedFor } from '../../server/src/model/skill/curveGrid.ts';
import { readHistory } from '../../server/src/model/skill/practiceHistory.ts';
import { skillPosterior } from '../../server/src/model/skill/skillPosterior.ts';
import { inferRunner } from '../../server/src/model/skill/runnerPosterior.ts';
import { tabulate } from '../../server/src/model/core/rateTable.ts';
import type { PracticeEntry, RunEntry, TechniqueModel } from '../../server/src/model/core/types.ts';

/** The runner and every technique's posterior, from logs alone. */
export function inferSkills(
  techniques: readonly TechniqueModel[],
  practice: readonly PracticeEntry[],
  runs: readonly RunEntry[],
  overrides: Partial<Constants> = {},
) {
  const constants = resolveConstants(overrides);
  const grid = curveGrid(constants);
  const losses = lossGrid(constants);
  const tables = new CountTables(constants);
  const members = techniques.map((technique) => {
    const mine = (entry: { technique: string }): boolean => entry.technique === technique.id;
    const history = readHistory(technique, practice.filter(mine), runs.filter(mine), constants);
    const { difficulty } = technique;
    const evidence = gatherEvidence(history.days, technique, grid, losses, constants, tables);
    return { difficulty, history, evidence };
  });
  const runner = inferRunner(members, grid, losses, constants);
  const posteriors = members.map(({ difficulty, evidence }, i) => {
    const belief = leaveOneOutPrior(runner, runner.runnerLikelihoods[i] ?? null, constants);
    const prior = skillPrior({ difficulty }, belief, grid, losses, constants);
    return skillPosterior(evidence, prior, weighedFor(grid, belief.learners), losses);
  });
  return {
    constants,
    grid,
    losses,
    members,
    runner,
    posteriors,
    rates: tabulate((r) => r, constants.rateFloor),
  };
}
