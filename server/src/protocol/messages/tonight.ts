import { request } from './message.ts';
import { tonightShape } from '../panel/tonightView.ts';
import { refusalShape } from '../refusal.ts';
import { opaque, record, textShape, unionOf, type ShapeType } from '../shape.ts';
import type { TonightReport } from '../tonightReport.ts';

const tonightParams = record({
  /** Any file of the project. */
  uri: textShape,
});
export type TonightParams = ShapeType<typeof tonightParams>;

const tonightAnswer = record({
  /**
   * The same in numbers, as the command line prints it. Its shape is not checked here: the client shows only the words,
   * and other programs that read the report check it themselves.
   */
  report: opaque<TonightReport>(),
  words: tonightShape,
});
const tonightResult = unionOf(tonightAnswer, refusalShape);
export type TonightResult = ShapeType<typeof tonightResult>;

/** Client → server: what to practise now on the route that a file belongs to; or why there is no answer. */
export const tonightRequest = request('routewright/tonight', {
  params: tonightParams,
  result: tonightResult,
});
