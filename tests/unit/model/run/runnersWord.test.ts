/** What the runner's word "in the run" says. Common practice, no source: nobody keeps for long what does not pay. */
import { expect, test } from 'vitest';
import { logit } from '../../../../server/src/model/core/numbers.ts';
import type { TechniqueModel } from '../../../../server/src/model/core/types.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import { pastChances } from '../../../../server/src/model/standing/pastChances.ts';
import { chanceRunRateAbove, runEstimate } from '../../../../server/src/model/skill/rateEstimates.ts';
import { noLogs, plainOptions, route, runTries, segment, technique, use } from '../../../helpers/invented.ts';

/** The chance that trying a technique of difficulty 9 pays (break-even 0.4), and its landing rate in a run. */
function see(
  more: Partial<TechniqueModel>,
  counted: readonly (readonly [landed: number, tries: number])[] = [],
) {
  const prepared = prepareModel({
    route: route([segment('s', 60, [use('vault', 6, 4)])], [technique('vault', { difficulty: 9, ...more })]),
    logs: { ...noLogs, runs: counted.map(([landed, tries], day) => runTries('vault', day, landed, tries)) },
    asOfDay: counted.length,
    options: plainOptions,
  });
  const subject = prepared.fittedTechniques.get('vault')!;
  const { posterior, logitsNow } = subject;
  const pays = chanceRunRateAbove(posterior, logitsNow, logit(0.4));
  return { pays, rate: runEstimate(posterior, logitsNow, prepared.rates), prepared, subject };
}

test('a technique that the runner has in the run most likely pays there, before anything is logged', () => {
  const guessed = see({ state: 'in-run' });
  const word = see({ state: 'in-run', stateWritten: true });
  expect(guessed.pays).toBeLessThan(0.6);
  expect(word.pays).toBeGreaterThan(0.8);
  // It is not taken for certain: one in ten may keep what does not pay.
  expect(word.pays).toBeLessThan(0.97);
  expect(word.rate.mean).toBeGreaterThan(guessed.rate.mean + 0.1);
});

test('one logged run changes the estimate a little, and many outweigh the word', () => {
  const written: Partial<TechniqueModel> = { state: 'in-run', stateWritten: true };
  const none = see(written);
  expect(see(written, [[1, 1]]).rate.mean).toBeGreaterThan(none.rate.mean);
  expect(see(written, [[1, 1]]).rate.mean).toBeLessThan(none.rate.mean + 0.15);
  expect(see(written, [[0, 1]]).rate.mean).toBeLessThan(none.rate.mean);
  const often = Array.from({ length: 6 }, () => [3, 20] as const);
  expect(see(written, often).pays).toBeLessThan(0.02);
  expect(see(written, often).rate.mean).toBeCloseTo(see({ state: 'in-run' }, often).rate.mean, 1);
});

test('the word says nothing of what is practised only', () => {
  expect(see({ state: 'learning', stateWritten: true }).pays).toBe(see({ state: 'learning' }).pays);
  expect(see({ state: 'learning', stateWritten: true }).subject.paysFrom).toBeNull();
});

test('the chance after the last day is the one of today', () => {
  const { prepared, subject, pays } = see({ state: 'in-run', stateWritten: true }, [
    [2, 5],
    [3, 6],
  ]);
  expect(pastChances(subject, prepared, logit(0.4))[0]!.chance).toBeCloseTo(pays, 3);
});
