import { learnedCurves } from '../differences.ts';
import type { SampleRunner } from '../sampleRunner.ts';

/** Learns quickly, has much time, and works on what is hard. */
export const oda: SampleRunner = {
  name: 'Oda',
  folder: 'runners/oda',
  luck: 100,
  curves: (difficulties) =>
    learnedCurves(difficulties, {
      luck: 1,
      pace: 1.5,
      known: {
        'crate-vault': 0.94,
        'gate-roll': 0.92,
        'lamp-hop': 0.97,
        'awning-bounce': 0.91,
        'ledge-drop': 0.97,
        'gutter-slide': 0.93,
        'stone-skip': 0.9,
        'sluice-jump': 0.84,
        'net-climb': 0.88,
        'rope-swing': 0.86,
      },
    }),
  minutesFree: [100, 75, 100, 75, 50],
  begins: 20 * 60,
  weeks: [
    { evenings: [0, 1, 2, 3], set: ['wall-kick', 'barrow-boost', 'blind-line', 'lens-align', 'stair-weave'] },
    {
      evenings: [0, 1, 2, 3, 4],
      set: ['wall-kick', 'blind-line', 'barrow-boost', 'oil-slick', 'oil-pickup', 'lens-align'],
    },
    {
      evenings: [0, 1, 2, 4],
      set: ['lamp-clip', 'oil-slick', 'blind-line', 'lens-align', 'bell-cancel'],
      segment: { evening: 2, id: 'lens-room' },
    },
    { evenings: [0, 1, 2, 3, 4], set: ['lamp-clip', 'gable-cut', 'awning-chain', 'bell-cancel', 'raft-cut'] },
    {
      evenings: [0, 2, 3, 4],
      set: ['gable-cut', 'awning-chain', 'raft-cut', 'lamp-clip', 'sluice-double'],
      segment: { evening: 3, id: 'chandlers-row' },
    },
    {
      evenings: [0, 1, 2, 3],
      set: ['awning-chain', 'chimney-kick', 'sluice-double', 'raft-cut', 'tide-skip'],
    },
  ],
  triedFromWeek: {
    'crate-vault': 0,
    'gate-roll': 0,
    'lamp-hop': 0,
    'rope-swing': 0,
    'awning-bounce': 0,
    'ledge-drop': 0,
    'awning-bounce@second': 0,
    'net-climb': 0,
    'gutter-slide': 0,
    'sluice-jump': 0,
    'stone-skip': 0,
    'stair-weave': 1,
    'wall-kick': 1,
    'barrow-boost': 1,
    'lens-align': 2,
    'bell-cancel': 4,
  },
  timeShare: 0.99,
  saturday: { minutes: 120, slack: 2 },
  sunday: { minutes: 90, slack: 12 },
};
