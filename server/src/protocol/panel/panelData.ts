/**
 * What the panel beside the route shows. The server computes the numbers and writes the words; the panel does the
 * layout.
 */
import { booleanShape, listOf, oneOf, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { viewShape, panelVersion } from './views.ts';
import { locationShape } from '../places.ts';
import { techniqueNameFields } from './viewParts.ts';
import { remedyOfferShape } from './remedies.ts';
import { curveShape } from './curveView.ts';
import { rankingShape } from './rankingView.ts';
import { oddsShape } from './oddsView.ts';
import { afterShape } from './afterView.ts';
import { compareShape } from './compareView.ts';
import { progressShape } from './progressView.ts';
import { reviewShape } from './reviewView.ts';
import { weekShape } from './weekView.ts';

export const panelDataShape = record({
  version: oneOf(panelVersion),
  /** The file that the request named. */
  uri: textShape,
  /** The file of the route; empty where it is not known. */
  routeUri: textShape,
  /** Game and category. */
  route: textShape,
  asOf: textShape,
  view: viewShape,
  /** Why there is nothing to show, and what to do; null where there is something. */
  message: orNull(textShape),
  /** Buttons that end what is missing, for the whole view or for a part of it. */
  remedies: listOf(remedyOfferShape),
  /**
   * Text that cannot be read, so that nothing is said of the route; null where all was read. The page keeps the view that it
   * showed last.
   */
  broken: orNull(
    record({
      /** `Line 5 of lanternfall.route.yaml cannot be read.`, and what is wrong there. */
      text: textShape,
      /** The text of the button that leads there: `Go to line 5`. */
      way: textShape,
      place: locationShape,
    }),
  ),
  /** Names what is being computed while older numbers are shown; null where all numbers belong to the current files. */
  pending: orNull(textShape),
  /** Whether there are further parts, which are computed only while no other request waits. */
  more: booleanShape,
  techniques: listOf(record(techniqueNameFields)),
  week: orNull(weekShape),
  ranking: orNull(rankingShape),
  curve: orNull(curveShape),
  odds: orNull(oddsShape),
  review: orNull(reviewShape),
  after: orNull(afterShape),
  progress: orNull(progressShape),
  compare: orNull(compareShape),
});
export type PanelData = ShapeType<typeof panelDataShape>;
