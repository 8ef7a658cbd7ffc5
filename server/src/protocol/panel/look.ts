/** What the panel looks at: a view, and what it is of. */
import { routeRevisionShape } from '../routeRevision.ts';
import { numberShape, optional, orNull, record, textShape, type ShapeType } from '../shape.ts';
import { defaultObjective, objectiveShape, viewShape } from './views.ts';

/** A view and what it is of, besides the route; where that is left out, the view shows what it shows first. */
export const changeOfLookFields = {
  view: viewShape,
  /** The technique whose curve is shown; null: the first of the ranking. */
  technique: orNull(textShape),
  /** The run that the view after a run is of: its id, or its start as `2026-10-04T16:34`. */
  run: optional(textShape),
  /** The route, or the revision of one, that the route of the panel is compared with. */
  compared: optional(routeRevisionShape),
  /** How many months the look back over the months shows. */
  months: optional(numberShape),
};
export const lookFields = { ...changeOfLookFields, objective: objectiveShape };
export const lookShape = record(lookFields);
export type Look = ShapeType<typeof lookShape>;
/** The look of a panel that was never opened before. */
export const firstLook: Look = { view: 'week', technique: null, objective: defaultObjective };

/** The look alone, of a message that has it among other fields. */
export function lookOf({ view, technique, run, compared, months, objective }: Look): Look {
  return {
    view,
    technique,
    objective,
    ...(run !== undefined && { run }),
    ...(compared !== undefined && { compared }),
    ...(months !== undefined && { months }),
  };
}

/** Another view or subject to look at; the objective of the ranking stays. */
export type ChangeOfLook = Omit<Look, 'objective'>;
