import { curvesOfWren } from '../learner.ts';
import type { SampleRunner } from '../sampleRunner.ts';

/** The runner whose files lie beside the route. */
export const wren: SampleRunner = {
  name: 'Wren',
  folder: '',
  luck: 0,
  curves: () => curvesOfWren,
  minutesFree: [100, 100, 75, 50, 100],
  begins: 19 * 60 + 15,
  weeks: [
    { evenings: [0, 1, 2, 4], set: ['wall-kick', 'lens-align', 'barrow-boost', 'rope-swing', 'stair-weave'] },
    {
      evenings: [0, 1, 2, 3, 4],
      set: ['wall-kick', 'barrow-boost', 'lens-align', 'lamp-clip', 'stair-weave'],
    },
    {
      evenings: [0, 2, 4],
      set: ['lamp-clip', 'chimney-kick', 'lens-align', 'barrow-boost', 'wall-kick'],
      segment: { evening: 4, id: 'net-lofts' },
    },
    {
      evenings: [0, 1, 2, 4],
      set: ['chimney-kick', 'lamp-clip', 'oil-slick', 'lens-align', 'barrow-boost', 'oil-pickup'],
    },
    {
      evenings: [0, 1, 2, 3, 4],
      set: ['oil-slick', 'chimney-kick', 'lamp-clip', 'tide-skip', 'bell-cancel'],
      segment: { evening: 4, id: 'salt-works' },
    },
    {
      evenings: [0, 1, 2, 4],
      set: ['chimney-kick', 'bell-cancel', 'lamp-clip', 'oil-slick', 'tide-skip'],
      segment: { evening: 2, id: 'bell-tower' },
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
    'stair-weave': 0,
    'wall-kick': 2,
    'barrow-boost': 2,
    'lens-align': 3,
  },
  timeShare: 1,
  // Saturday: many starts, little patience. Sunday: a few runs, played to the end even when they are slow.
  saturday: { minutes: 110, slack: 0 },
  sunday: { minutes: 90, slack: 14 },
};
