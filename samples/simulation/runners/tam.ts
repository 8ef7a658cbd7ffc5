import { learnedCurves } from '../differences.ts';
import type { SampleRunner } from '../sampleRunner.ts';

/** New to the game and in no hurry: two or three short evenings a week, easy techniques first. */
export const tam: SampleRunner = {
  name: 'Tam',
  folder: 'runners/tam',
  luck: 300,
  curves: (difficulties) =>
    learnedCurves(difficulties, {
      luck: 3,
      pace: 3.6,
      known: { 'crate-vault': 0.84, 'lamp-hop': 0.9, 'ledge-drop': 0.92 },
    }),
  minutesFree: [0, 75, 0, 75, 50],
  begins: 21 * 60,
  weeks: [
    { evenings: [1, 3], set: ['gate-roll', 'awning-bounce', 'gutter-slide', 'stone-skip'] },
    { evenings: [1, 3, 4], set: ['gate-roll', 'awning-bounce', 'stone-skip', 'rope-swing'] },
    { evenings: [1, 3], set: ['rope-swing', 'net-climb', 'gutter-slide', 'stair-weave'] },
    {
      evenings: [1, 3, 4],
      set: ['rope-swing', 'net-climb', 'stair-weave', 'wall-kick'],
      segment: { evening: 3, id: 'rope-yard' },
    },
    { evenings: [1, 3, 4], set: ['wall-kick', 'stair-weave', 'sluice-jump', 'barrow-boost'] },
    { evenings: [1, 3, 4], set: ['wall-kick', 'barrow-boost', 'sluice-jump', 'lens-align'] },
  ],
  triedFromWeek: {
    'crate-vault': 0,
    'lamp-hop': 0,
    'ledge-drop': 0,
    'awning-bounce': 2,
    'gutter-slide': 3,
    'stone-skip': 3,
    'rope-swing': 4,
    'net-climb': 5,
  },
  timeShare: 1.05,
  saturday: { minutes: 60, slack: 30 },
  sunday: { minutes: 50, slack: 90 },
};
