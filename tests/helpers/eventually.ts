import { vi } from 'vitest';

/** Only to end what hangs: other checks share the machine, and no test is about time. */
const limit = { timeout: 300_000 };

/** Waits until a check no longer throws, and gives what it gives. */
export const waitFor: typeof vi.waitFor = (check) => vi.waitFor(check, limit);

/** Waits until a condition gives something truthy, and gives that. */
export const waitUntil: typeof vi.waitUntil = (condition) => vi.waitUntil(condition, limit);
