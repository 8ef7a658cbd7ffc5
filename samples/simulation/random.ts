/** A seeded source of chance. Everything the simulation does not decide itself comes from here. */
export interface Random {
  /** A number in [0, 1). */
  readonly next: () => number;
  /** A number in [low, high). */
  readonly between: (low: number, high: number) => number;
  /** A whole number from low to high, both included. */
  readonly whole: (low: number, high: number) => number;
  /** True with the given chance (0 to 1). */
  readonly happens: (chance: number) => boolean;
  /** One of the items; the list must not be empty. */
  readonly pick: <T>(items: readonly [T, ...T[]]) => T;
  /** Mean 0, standard deviation 1, with a longer right tail, as segment times have. */
  readonly skewed: () => number;
}

/**
 * Makes a source of chance from a 32-bit seed: the public-domain generator "mulberry32" of Tommy Ettinger (2017).
 *
 * Only whole-number steps and the four basic operations are used here and in the rest of the simulation,
 * no logarithm, power or trigonometry: those may differ in the last bit between platforms, and the
 * same seed has to give the same files everywhere.
 */
export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const between = (low: number, high: number): number => low + (high - low) * next();
  const whole = (low: number, high: number): number => low + Math.floor((high - low + 1) * next());
  const skewed = (): number => {
    // Twelve uniform numbers have variance 1 in all: a bell shape without a logarithm.
    let bell = -6;
    for (let i = 0; i < 12; i += 1) bell += next();
    // The square of a uniform number is skewed to the right; mean 1/3, standard deviation 0.298.
    const side = next();
    const lean = (side * side - 1 / 3) / 0.298;
    return 0.8 * bell + 0.6 * lean;
  };
  return {
    next,
    between,
    whole,
    happens: (chance) => next() < chance,
    pick: (items) => items[Math.floor(next() * items.length)] ?? items[0],
    skewed,
  };
}
