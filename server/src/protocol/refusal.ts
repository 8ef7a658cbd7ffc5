import { record, textShape, type ShapeType } from './shape.ts';

/** Why something was not done, in a sentence for the person who wanted it. */
export const refusalShape = record({ message: textShape });
export type Refusal = ShapeType<typeof refusalShape>;

/** Whether a result is the reason why there is none. */
export function isRefusal<R extends object>(result: R | Refusal): result is Refusal {
  return 'message' in result;
}
