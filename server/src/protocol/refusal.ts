import { record, textShape, type ShapeType } from './shape.ts';

/** Why something was not done, as a sentence for the person who asked for it. */
export const refusalShape = record({ message: textShape });
export type Refusal = ShapeType<typeof refusalShape>;

/** Whether a result is a refusal. */
export function isRefusal<R extends object>(result: R | Refusal): result is Refusal {
  return 'message' in result;
}
