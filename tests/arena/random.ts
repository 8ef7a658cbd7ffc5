/** Seeded chance for the simulated runners: every draw hangs on what it is for, so all policies meet the same luck. */

/** A stream of numbers. */
export interface Chance {
  /** In [0, 1). */
  readonly next: () => number;
  /** In [low, high). */
  readonly between: (low: number, high: number) => number;
  /** A whole number from low to high, both included. */
  readonly whole: (low: number, high: number) => number;
  /** Mean 0, standard deviation 1. */
  readonly normal: () => number;
  /** A beta-distributed number; both shapes above 0. */
  readonly beta: (a: number, b: number) => number;
  /** How many of `tries` land at a rate. */
  readonly binomial: (tries: number, rate: number) => number;
}

/** A 32-bit seed from a list of whole numbers (an FNV-1a walk with a final mix). */
export function seedOf(...parts: readonly number[]): number {
  let hash = 0x811c9dc5;
  for (const part of parts) {
    hash = Math.imul(hash ^ (part | 0), 0x01000193);
    hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  }
  return (hash ^ (hash >>> 13)) >>> 0;
}

/** A stream from a seed (the public-domain generator mulberry32). */
export function chance(seed: number): Chance {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  // Box and Muller 1958.
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  // Marsaglia and Tsang 2000, with their step for shapes below 1.
  const gamma = (shape: number): number => {
    if (shape < 1) return gamma(shape + 1) * (1 - next()) ** (1 / shape);
    const d = shape - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const x = normal();
      const v = (1 + c * x) ** 3;
      if (v > 0 && Math.log(1 - next()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
    }
  };
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    whole: (low, high) => low + Math.floor((high - low + 1) * next()),
    normal,
    beta: (a, b) => {
      const x = gamma(a);
      return x / (x + gamma(b));
    },
    binomial: (tries, rate) => {
      let landed = 0;
      for (let i = 0; i < tries; i++) if (next() < rate) landed++;
      return landed;
    },
  };
}
