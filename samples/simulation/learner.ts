/**
 * How the simulated runner really learns. This is the truth behind the sample logs, and on purpose none of it
 * is what the program assumes: a tool that only works on runners of its own kind would look good on them.
 */

/** Closes the gap to a ceiling by the same share with every attempt: a saturating exponential. */
interface Gradual {
  readonly kind: 'gradual';
  /** Landing rate in practice before the first attempt, and the rate that more practice never passes. */
  readonly start: number;
  readonly ceiling: number;
  /** Attempts in which the gap shrinks to about 37 %. */
  readonly attempts: number;
}

/** Lands by luck only for a number of attempts, then comes within a few evenings. */
interface Plateau {
  readonly kind: 'plateau';
  readonly lucky: number;
  readonly ceiling: number;
  readonly stuckFor: number;
  readonly attempts: number;
}

/** Learned long before the logs begin; may slip from a day on (days from 0, the first of the logs). */
interface Settled {
  readonly kind: 'settled';
  readonly rate: number;
  readonly slip?: { readonly fromDay: number; readonly rate: number };
}

export type Curve = Gradual | Plateau | Settled;

/** The true curve of every technique that the runner beside the route, Wren, touches, by id. */
export const curvesOfWren: Readonly<Record<string, Curve>> = {
  'crate-vault': { kind: 'settled', rate: 0.9 },
  'gate-roll': { kind: 'settled', rate: 0.87 },
  'lamp-hop': { kind: 'settled', rate: 0.95 },
  'awning-bounce': { kind: 'settled', rate: 0.86 },
  'ledge-drop': { kind: 'settled', rate: 0.95 },
  // In the last week the runner reaches for the wrong row of floats.
  'net-climb': { kind: 'settled', rate: 0.86, slip: { fromDay: 35, rate: 0.1 } },
  'gutter-slide': { kind: 'settled', rate: 0.9 },
  'sluice-jump': { kind: 'settled', rate: 0.82 },
  'stone-skip': { kind: 'settled', rate: 0.88 },
  'rope-swing': { kind: 'gradual', start: 0.64, ceiling: 0.9, attempts: 600 },
  'stair-weave': { kind: 'gradual', start: 0.68, ceiling: 0.93, attempts: 350 },
  'wall-kick': { kind: 'gradual', start: 0.3, ceiling: 0.92, attempts: 550 },
  'barrow-boost': { kind: 'gradual', start: 0.2, ceiling: 0.86, attempts: 520 },
  'lens-align': { kind: 'gradual', start: 0.12, ceiling: 0.77, attempts: 330 },
  'lamp-clip': { kind: 'gradual', start: 0.03, ceiling: 0.6, attempts: 1500 },
  'oil-pickup': { kind: 'gradual', start: 0.7, ceiling: 0.98, attempts: 80 },
  'oil-slick': { kind: 'gradual', start: 0.1, ceiling: 0.82, attempts: 420 },
  'bell-cancel': { kind: 'gradual', start: 0.1, ceiling: 0.84, attempts: 520 },
  'chimney-kick': { kind: 'plateau', lucky: 0.06, ceiling: 0.72, stuckFor: 1300, attempts: 230 },
  'tide-skip': { kind: 'plateau', lucky: 0.05, ceiling: 0.75, stuckFor: 1600, attempts: 150 },
};

/** What the simulated runner can do at this moment. */
export interface Learner {
  /** True landing rate in practice on the given day (days from 0). */
  readonly rate: (technique: string, day: number) => number;
  /** Counts one attempt, landed or not: both teach. */
  readonly attempt: (technique: string) => void;
}

/** A runner before the first day of the logs. @param curves how each technique is learned; left out: as Wren does */
export function createLearner(curves = curvesOfWren): Learner {
  // The part of the gap to the ceiling that is still open; attempts spent on a plateau.
  const open = new Map<string, number>();
  const stuck = new Map<string, number>();
  const gap = (technique: string): number => open.get(technique) ?? 1;

  const rate = (technique: string, day: number): number => {
    const curve = curves[technique];
    if (curve === undefined) return 0;
    if (curve.kind === 'settled') {
      return curve.slip !== undefined && day >= curve.slip.fromDay ? curve.slip.rate : curve.rate;
    }
    const from = curve.kind === 'gradual' ? curve.start : curve.lucky;
    return curve.ceiling - (curve.ceiling - from) * gap(technique);
  };

  const attempt = (technique: string): void => {
    const curve = curves[technique];
    if (curve === undefined || curve.kind === 'settled') return;
    if (curve.kind === 'plateau') {
      const spent = (stuck.get(technique) ?? 0) + 1;
      stuck.set(technique, spent);
      if (spent <= curve.stuckFor) return;
    }
    open.set(technique, gap(technique) * (1 - 1 / curve.attempts));
  };

  return { rate, attempt };
}
