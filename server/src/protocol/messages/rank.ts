import { request } from './message.ts';
import { locationShape } from '../places.ts';
import type { RankReport } from '../rankReport.ts';
import { standingFields } from '../standing.ts';
import {
  booleanShape,
  listOf,
  opaque,
  optional,
  record,
  textShape,
  type RecordType,
  type ShapeType,
} from '../shape.ts';

const rankParams = record({
  /** Any file of the project. */
  uri: textShape,
  /** True: the ranking also has the techniques that are in the run already. */
  all: optional(booleanShape),
});
export type RankParams = ShapeType<typeof rankParams>;

const techniqueLine = {
  technique: textShape,
  name: textShape,
  /** Where it is defined. */
  location: optional(locationShape),
  ...standingFields,
};
/** A technique as a line of a list. */
export type TechniqueLine = RecordType<typeof techniqueLine>;

const rankLine = record({
  ...techniqueLine,
  /** The expected gain and its 80 % range, with the unit. */
  gain: textShape,
  /** One line with the landing rates, the chance to be competent and the practice. */
  detail: textShape,
  reason: textShape,
  /** The technique is practised in a package with others; `packageLine` is on the line of its first member only. */
  inPackage: optional(booleanShape),
  packageLine: optional(record({ name: textShape, gain: textShape, detail: textShape })),
});
export type RankLine = ShapeType<typeof rankLine>;

const skippedLine = record({ ...techniqueLine, reason: textShape });

const rankResult = record({
  /**
   * Absent where there is nothing to rank; `message` then says why and what to do. Its shape is not checked here: the
   * client shows only the lines below, and other programs that read the report check it themselves.
   */
  report: optional(opaque<RankReport>()),
  message: optional(textShape),
  /** Game and category, and the day asked about; empty where there is no report. */
  title: textShape,
  /** Game and category alone. */
  route: textShape,
  /** The rows of the report in words, in their order. */
  lines: listOf(rankLine),
  skipped: listOf(skippedLine),
});
export type RankResult = ShapeType<typeof rankResult>;

/** Client → server: the ranking of the route that a file belongs to. */
export const rankRequest = request('routewright/rank', { params: rankParams, result: rankResult });
