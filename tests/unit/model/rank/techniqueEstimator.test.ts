import { describe, expect, it } from 'vitest';
import { assess, rank, ModelCache, type RankInput } from '../../../../server/src/model/index.ts';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { TechniqueEstimator } from '../../../../server/src/model/rank/techniqueEstimator.ts';
import { buildRateCurve } from '../../../../server/src/model/rank/rateCurve.ts';
import { makeLoggedRoute, modelInputsOf } from '../../../bench/ranking.ts';

type Answers = ReturnType<typeof answersTo>;

const answersTo = (input: RankInput) => ({ ranking: rank(input), assessed: assess(input) });

function expectAlike({ ranking, assessed }: Answers, look: TechniqueEstimator): void {
  for (const row of ranking.rows) {
    const { gainPerHour, low, high, blocks, blockMinutes, hours, technique } = row;
    const { gain, breakEven, runThen, chanceCompetent, openNeeds } = row;
    const gains = {
      ...{ gainPerHour, low, high, blocks, blockMinutes, hours },
      ...{ gain, breakEven, runThen, chanceCompetent, openNeeds },
    };
    expect(look.gains(technique), technique).toEqual({ gains });
    expect(look.assessment(technique), technique).toEqual(assessed.get(technique));
  }
  for (const { technique, reason } of ranking.skipped)
    expect(look.gains(technique), technique).toEqual({ notRanked: reason });
  expect(look.gains('no-such')).toBeUndefined();
}

describe('a close look at one technique', () => {
  it('says what a ranking of all says, to the last digit', async () => {
    const [before, after] = await modelInputsOf(
      makeLoggedRoute(11, { techniques: 30, blocks: 60, evenings: 1 }),
    );
    const answers = answersTo(before);
    expect(answers.ranking.rows.length).toBeGreaterThan(5);
    expect(answers.ranking.skipped.length).toBeGreaterThan(5);
    expectAlike(answers, new TechniqueEstimator(before));
    const all = { ...before, options: { ...before.options, all: true } };
    expectAlike(answersTo(all), new TechniqueEstimator(all));
    const cache = new ModelCache();
    runToCompletion(new TechniqueEstimator(before, cache).warmUpInSteps());
    expectAlike(answersTo(after), new TechniqueEstimator(after, cache));
    rank(before, cache);
    expectAlike(answers, new TechniqueEstimator(before, cache));
  });

  it('draws the same curve', async () => {
    const [question] = await modelInputsOf(makeLoggedRoute(12, { techniques: 12, blocks: 60, evenings: 3 }));
    const look = new TechniqueEstimator(question);
    const planned = [{ day: question.asOfDay + 1, minutes: 25 }];
    for (const { id } of question.route.techniques)
      expect(look.curve(id, planned, question.asOfDay + 9)).toEqual(
        buildRateCurve(question, id, planned, question.asOfDay + 9)!.points.map(
          ({ day, ahead, practice }) => ({
            day,
            ahead,
            practice,
          }),
        ),
      );
    expect(look.curve('no-such', planned, question.asOfDay + 9)).toBeUndefined();
  });
});
