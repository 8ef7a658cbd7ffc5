import type { StandingKind } from '../model/core/types.ts';
import { booleanShape, oneOf, textShape, type RecordType, type Shape } from './shape.ts';

/** Where a technique stands, as every command prints it with `--json` and as the editor gets it. */
export interface StandingReport {
  readonly technique: string;
  readonly standing: StandingKind;
  /** Date from which it holds; null if that cannot be said. */
  readonly since: string | null;
  /** Why, in one sentence. */
  readonly reason: string;
}

/** Where a technique stands, as a word of the protocol. */
const standingKindShape: Shape<StandingKind> = oneOf(
  'left-out',
  'waiting',
  'again',
  'in-run',
  'learning',
  'aside',
  'not-begun',
);

/** Where a technique stands, in messages that list techniques. */
export const standingFields = {
  standing: standingKindShape,
  /** The standing in words. */
  standingText: textShape,
  /** Whether the technique is in the practice set. */
  inSet: booleanShape,
};
export type StandingFields = RecordType<typeof standingFields>;
