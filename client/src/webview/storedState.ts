import type { Shape } from '../../../server/src/protocol/shape.ts';

/**
 * What was stored before this start of the editor. Its shape names the version of the form that it is stored in:
 * undefined where nothing was stored, or by a version with another form.
 */
export function readStored<T>(shape: Shape<T>, stored: unknown): T | undefined {
  return shape.fits(stored) ? stored : undefined;
}
