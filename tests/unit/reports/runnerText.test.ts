import { describe, expect, it } from 'vitest';
import { runnerSentence } from '../../../server/src/reports/runnerText.ts';

const nothing = { mean: 0, low: -0.9, high: 0.9 };
const sentence = (step: number): string => runnerSentence({ offset: nothing, pressure: nothing, step }, 0.55);

describe('what the logs tell of the runner', () => {
  it('says where a step of difficulty counts less than usual, or more', () => {
    expect(sentence(0.27)).toMatch(
      / The difficulties written in the route say little about how long a technique takes this runner: a step counts only 0\.3 times what it usually does\.$/,
    );
    expect(sentence(1.7)).toMatch(
      / say more than usual .*: a step counts 1\.7 times what it usually does\.$/,
    );
  });

  it('says nothing of it where it counts about what it usually does', () => {
    for (const step of [0.71, 1, 1.29])
      expect(sentence(step)).not.toMatch(/step counts|written in the route/);
  });
});
