/** What the panel looks at: a view, and what it is of. */
import { optional, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { objectiveShape, viewShape } from './views.ts';

/** What a view is of, besides the route; where it is left out, the view shows what it shows first. */
export const subjectFields = {
  /** The technique whose curve is shown; null: the first of the ranking. */
  technique: orNull(textShape),
  /** The run that the view after a run is of: its id, or its start as `2026-10-04T16:34`. */
  run: optional(textShape),
};
export const lookFields = { view: viewShape, ...subjectFields, objective: objectiveShape };
export const lookShape = record(lookFields);
export type Look = ShapeType<typeof lookShape>;
/** The look alone, of a message that has it among other fields. */
export function lookOf({ view, technique, run, objective }: Look): Look {
  return { view, technique, objective, ...(run !== undefined && { run }) };
}

/** A look without the objective of the ranking. */
export const changeOfLookShape = record({ view: viewShape, ...subjectFields });
/** Another view or subject to look at; the objective of the ranking stays. */
export type ChangeOfLook = ShapeType<typeof changeOfLookShape>;
