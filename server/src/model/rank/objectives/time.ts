/** The objective of a faster expected run. */
import type { Objective } from './objective.ts';

/**
 * Gains are seconds by which V is lower: the expected time of a run, plus a small part of the clock time lost to
 * resets.
 */
export const time: Objective = {
  id: 'time',
  needs: undefined,
  meaning: 'the expected time of a run',
  choiceLabel: () => 'expected time of a run',
  gain: {
    scale: 1,
    symbol: 's',
    word: 's',
    perHour: 's per hour',
    jsonUnit: 's/h',
    definition: 'Gain: seconds of expected run time for each hour of practice',
    axisLabel: 'Seconds gained per hour of practice',
    expected: (gain) => `Expected to save ${gain}`,
  },
  *valueInSteps(_input, { valuer }) {
    yield;
    return { valuer, target: null };
  },
};
