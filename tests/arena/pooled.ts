/** Runners of one route: what the practice of some of them says to one more. */
import { ModelCache, defaultConstants } from '../../server/src/model/index.ts';
import type { Constants } from '../../server/src/model/index.ts';
import type { OthersWord } from '../../server/src/model/core/rated.ts';
import { addByRating } from '../../server/src/model/pool/addByRating.ts';
import { leastRunners } from '../../server/src/model/pool/addUp.ts';
import { contributionsOf } from '../../server/src/model/pool/contribution.ts';
import { othersWords } from '../../server/src/model/pool/othersWord.ts';
import type { PooledTechnique } from '../../server/src/model/pool/pooledTechnique.ts';
import { learnerKinds } from '../../server/src/model/skill/learnerKinds.ts';
import { prepareModel } from '../../server/src/model/run/preparedModel.ts';
import { fiveInTurn, savePerDifficulty, savePerHour } from './policies/handRules.ts';
import { costliest, sameFour } from './policies/lookingBack.ts';
import type { View } from './policies/policy.ts';
import { chance, seedOf } from './random.ts';
import { simulate } from './simulate.ts';
import type { Runner } from './simulate.ts';
import { commonOf, drawWithCommon, withCommon } from './truth/ownKind.ts';
import { fresh } from './truth/truth.ts';
import { createWorld, firstDay, routeOf } from './world.ts';
import type { World } from './world.ts';

/** Days that the others practised before the runner begins. */
const othersDays = 42;

/** Rules that the others follow, by turns. */
const rules = [savePerDifficulty, fiveInTurn, savePerHour, sameFour, costliest];

/** A runner of a route that others run, too. @param share what they have in common of each technique, 0 to 1 */
export function runnerOfRoute(routeSeed: number, number: number, share: number, days?: number): Runner {
  const seed = seedOf(routeSeed, 19, number);
  const world = createWorld({ seed, routeSeed, guessOff: 0, knownShare: 0, most: 40, days });
  const truth = withCommon(share, routeSeed)(world.skills, chance(seedOf(seed, 12)));
  return { world, truth, start: world.skills.map(() => fresh), slip: null };
}

/** How far each technique is from its rating for a runner: its half-way point and its loss in runs, in the units of the model. */
export function trueDeviations(routeSeed: number, number: number, share: number, techniques: number) {
  const random = chance(seedOf(seedOf(routeSeed, 19, number), 12));
  return drawWithCommon(share, routeSeed, techniques, random).drawn.map(({ midway, loss }) => ({
    midway: defaultConstants.midwaySd * midway,
    loss: defaultConstants.ownPressureSd * loss,
  }));
}

/** What a runner's logs say to others. */
function contributionsFrom(runner: Runner, number: number, constants: Partial<Constants>) {
  let last: View | undefined;
  simulate(runner, rules[number % rules.length]!, (_day, _state, view) => {
    last = view;
  });
  const { logs, tallies } = last!;
  const prepared = prepareModel(
    {
      route: routeOf(
        runner.world,
        (i) => tallies[i]!.inRun,
        (i) => tallies[i]!.blocks.length > 0,
      ),
      logs,
      asOfDay: firstDay + othersDays,
      options: { blockMinutes: runner.world.blockMinutes, confidence: 0.8, all: true },
      constants,
    },
    new ModelCache(),
  );
  return contributionsOf(prepared);
}

/** What each of a number of other runners of the route adds to its pool. */
export function partsOfOthers(
  routeSeed: number,
  count: number,
  share: number,
  constants: Partial<Constants> = {},
): ReadonlyMap<string, PooledTechnique>[] {
  return Array.from({ length: count }, (_, i) =>
    contributionsFrom(runnerOfRoute(routeSeed, i + 1, share, othersDays), i + 1, constants),
  );
}

/** What runners say together of the techniques of their route to one more. */
export function wordOfParts(
  { skills }: World,
  parts: readonly ReadonlyMap<string, PooledTechnique>[],
): ReadonlyMap<string, OthersWord> {
  const pool = addByRating(parts, () => undefined).techniques;
  const told = skills.flatMap(({ id, written }) => {
    const pooled = pool.get(id);
    return pooled !== undefined && pooled.runners >= leastRunners
      ? [{ id, difficulty: written, pooled }]
      : [];
  });
  const words = othersWords(told, defaultConstants);
  return new Map(told.map(({ id }, i) => [id, words[i]!]));
}

/**
 * What nobody can know better: what runners have in common of every technique, exactly. The rest is each runner's own, so no pool
 * can say more.
 */
export function commonWord(
  routeSeed: number,
  share: number,
  { skills }: World,
): ReadonlyMap<string, OthersWord> {
  const { midwaySd, ownPressureSd } = defaultConstants;
  const kinds = learnerKinds(defaultConstants);
  const factors = (of: 'steepness' | 'ceilings' | 'floors', common: number): number[] =>
    kinds[0]![of].map((_, i) => {
      const usual = kinds.reduce((sum, kind) => sum + kind.share * kind[of][i]!, 0);
      return usual > 0 ? 1 - share + (i === common ? share / usual : 0) : 1;
    });
  // A standard deviation of 0 is no density on a grid.
  const own = Math.sqrt(Math.max(1 - share, 0.0025));
  return new Map(
    skills.map(({ id }, i) => {
      const { midway, loss, curve } = commonOf(routeSeed, i);
      const { suddenness, ceiling, floor } = curve.numbers;
      const word: OthersWord = {
        runners: leastRunners,
        midway: { mean: Math.sqrt(share) * midwaySd * midway, sd: own * midwaySd },
        commonSd: 0,
        loss: { mean: Math.sqrt(share) * ownPressureSd * loss, sd: own * ownPressureSd },
        shape: {
          suddenness: factors('steepness', suddenness),
          ceiling: factors('ceilings', ceiling),
          floor: factors('floors', floor),
        },
      };
      return [id, word];
    }),
  );
}
