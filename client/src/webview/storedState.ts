import type { Shape } from '../../../server/src/protocol/shape.ts';

/**
 * The state that an earlier start of the editor stored; undefined where none was stored, or it does not fit the shape.
 * The shape includes a version number, so a state in an older form does not fit.
 */
export function readStored<T>(shape: Shape<T>, stored: unknown): T | undefined {
  return shape.fits(stored) ? stored : undefined;
}
