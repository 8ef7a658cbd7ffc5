/** What the simulated runner set out to do in each of the six weeks. */
export interface WeekPlan {
  /** Evenings with practice, 0 = Monday. */
  readonly evenings: readonly number[];
  /** The practice set, in the order in which it is rotated. */
  readonly set: readonly string[];
  /** A segment practised whole at the end of one evening of this week. */
  readonly segment?: { readonly evening: number; readonly id: string };
}

/** Minutes free for practice on each evening, Monday to Friday. */
export const minutesFree: readonly number[] = [100, 100, 75, 50, 100];

export const weeks: readonly WeekPlan[] = [
  { evenings: [0, 1, 2, 4], set: ['wall-kick', 'lens-align', 'barrow-boost', 'rope-swing', 'stair-weave'] },
  { evenings: [0, 1, 2, 3, 4], set: ['wall-kick', 'barrow-boost', 'lens-align', 'lamp-clip', 'stair-weave'] },
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
];

/** Uses tried in runs, by their names in the logs, and the first week (from 0) in which they are. */
export const triedFromWeek: Readonly<Record<string, number>> = {
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
};
