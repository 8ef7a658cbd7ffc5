/**
 * What the panel beside the route shows. Numbers and words come from the server; the panel lays out.
 */
import { booleanShape, listOf, oneOf, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { viewShape, panelVersion } from './views.ts';
import { techniqueNameFields } from './viewParts.ts';
import { curveShape } from './curveView.ts';
import { rankingShape } from './rankingView.ts';
import { runShape } from './runView.ts';
import { weekShape } from './weekView.ts';

export const panelDataShape = record({
  version: oneOf(panelVersion),
  /** The file that was asked about. */
  uri: textShape,
  /** Game and category. */
  route: textShape,
  asOf: textShape,
  view: viewShape,
  /** Why there is nothing to show, and what to do; null where there is something. */
  message: orNull(textShape),
  /** What is being worked out while older numbers are shown; null where all is as the files stand. */
  pending: orNull(textShape),
  /** Whether something can be added that is worked out only while nobody waits for anything else. */
  more: booleanShape,
  techniques: listOf(record(techniqueNameFields)),
  week: orNull(weekShape),
  ranking: orNull(rankingShape),
  curve: orNull(curveShape),
  run: orNull(runShape),
});
export type PanelData = ShapeType<typeof panelDataShape>;
