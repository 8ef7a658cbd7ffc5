/** Practice that makes the expected run faster. */
import type { Objective } from './objective.ts';

/** Seconds off V, the expected time of a run with a little of the clock lost to resets. */
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
  value: (_input, { valuer }) => ({ valuer, target: null }),
};
