import { learnedCurves } from '../differences.ts';
import type { SampleRunner } from '../sampleRunner.ts';

/** Learns about as quickly as most, on three evenings a week. */
export const pim: SampleRunner = {
  name: 'Pim',
  folder: 'runners/pim',
  luck: 200,
  curves: (difficulties) =>
    learnedCurves(difficulties, {
      luck: 2,
      pace: 2.4,
      known: {
        'crate-vault': 0.91,
        'gate-roll': 0.88,
        'lamp-hop': 0.95,
        'awning-bounce': 0.87,
        'ledge-drop': 0.95,
        'gutter-slide': 0.89,
        'stone-skip': 0.86,
      },
    }),
  minutesFree: [75, 0, 100, 0, 100],
  begins: 18 * 60 + 30,
  weeks: [
    { evenings: [0, 2, 4], set: ['rope-swing', 'net-climb', 'sluice-jump', 'stair-weave'] },
    { evenings: [0, 2, 4], set: ['rope-swing', 'net-climb', 'sluice-jump', 'wall-kick', 'stair-weave'] },
    {
      evenings: [0, 2, 4],
      set: ['wall-kick', 'barrow-boost', 'lens-align', 'blind-line', 'sluice-jump'],
      segment: { evening: 4, id: 'net-lofts' },
    },
    { evenings: [0, 2, 4], set: ['barrow-boost', 'lens-align', 'blind-line', 'bell-cancel', 'wall-kick'] },
    {
      evenings: [0, 2, 4],
      set: ['bell-cancel', 'oil-slick', 'awning-chain', 'lens-align', 'blind-line', 'oil-pickup'],
    },
    {
      evenings: [0, 2, 4],
      set: ['oil-slick', 'chimney-kick', 'awning-chain', 'bell-cancel', 'lamp-clip', 'blind-line'],
    },
  ],
  triedFromWeek: {
    'crate-vault': 0,
    'gate-roll': 0,
    'lamp-hop': 0,
    'awning-bounce': 0,
    'ledge-drop': 0,
    'awning-bounce@second': 0,
    'gutter-slide': 0,
    'stone-skip': 0,
    'rope-swing': 2,
    'net-climb': 2,
    'stair-weave': 2,
    'sluice-jump': 3,
    'wall-kick': 4,
  },
  timeShare: 1.02,
  saturday: { minutes: 90, slack: 6 },
  sunday: { minutes: 50, slack: 25 },
};
