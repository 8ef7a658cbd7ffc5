import { fileEditShape } from '../fileEdit.ts';
import { request } from './message.ts';
import { refusalShape } from '../refusal.ts';
import { standingFields } from '../standing.ts';
import {
  booleanShape,
  listOf,
  numberShape,
  orNull,
  record,
  textShape,
  unionOf,
  type ShapeType,
} from '../shape.ts';

const practiceOfferParams = record({
  uri: textShape,
  /** False: without today's next block, which takes some time to plan. */
  plan: booleanShape,
});
export type PracticeOfferParams = ShapeType<typeof practiceOfferParams>;

/** A log file, with the edit that creates it where it does not exist yet. */
export const logFileShape = record({
  uri: textShape,
  /** The edit that creates it; null where it exists. */
  begin: orNull(fileEditShape),
});
export type LogFile = ShapeType<typeof logFileShape>;

const offeredTechnique = record({
  technique: textShape,
  name: textShape,
  /** Minutes of a block. */
  minutes: numberShape,
  /** Where to start over; empty where the route does not say. */
  from: textShape,
  /** Seconds from one attempt's start to the next, according to the route. */
  cycle: numberShape,
  /** The landing rate in practice to expect today: `41 %`. */
  usual: textShape,
  ...standingFields,
});
export type OfferedTechnique = ShapeType<typeof offeredTechnique>;

const practiceOffer = record({
  /** Game and category. */
  route: textShape,
  practice: logFileShape,
  /** Today's next block according to the plan; null where today has none left. */
  next: orNull(offeredTechnique),
  /** The practice set first, what is to work on again before the rest of it; then in the order of the route. */
  techniques: listOf(offeredTechnique),
  /** A sentence on when an attempt that is counted is safe. */
  promise: textShape,
  /** A warning about long days; null where it does not apply. */
  caution: orNull(textShape),
  /** Minutes practised today. */
  minutesToday: numberShape,
});
export type PracticeOffer = ShapeType<typeof practiceOffer>;
const practiceOfferResult = unionOf(practiceOffer, refusalShape);
export type PracticeOfferResult = ShapeType<typeof practiceOfferResult>;

/** Client → server: what can be practised and logged along the route that a file belongs to. */
export const practiceOfferRequest = request('routewright/practiceOffer', {
  params: practiceOfferParams,
  result: practiceOfferResult,
});
