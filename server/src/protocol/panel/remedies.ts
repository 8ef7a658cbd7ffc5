/** What is missing for a view, with the button that ends that. */
import { oneOf, record, textShape, type ShapeType } from '../shape.ts';

/**
 * `minutes`, `target`: written into the week file, which is created where there is none. `log-block`, `log-run`: logged
 * by the command. `route`: written by the person, in the route's file. `paste`: pasted from the clipboard. `compare`: chosen by the
 * person. `runner`: chosen among those whom the logs name.
 */
export const remedyShape = oneOf(
  'minutes',
  'target',
  'log-block',
  'log-run',
  'route',
  'paste',
  'compare',
  'runner',
);
export type Remedy = ShapeType<typeof remedyShape>;

export const remedyOfferShape = record({
  remedy: remedyShape,
  /** The text of the button. */
  text: textShape,
});
export type RemedyOffer = ShapeType<typeof remedyOfferShape>;
