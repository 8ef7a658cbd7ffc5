import { fileEditResultShape } from '../fileEdit.ts';
import { request } from './message.ts';
import { panelChangeShape } from '../panel/pageMessages.ts';
import { oneOf, record, textShape, type ShapeType } from '../shape.ts';

const setStateParams = record({
  uri: textShape,
  technique: textShape,
  state: oneOf('unlearned', 'learning', 'in-run'),
});
export type SetStateParams = ShapeType<typeof setStateParams>;

/** Client → server: the edit that sets a technique's state, in the week file where there is one. */
export const setStateRequest = request('routewright/setState', {
  params: setStateParams,
  result: fileEditResultShape,
});

const changeWeekParams = record({ uri: textShape, technique: textShape, change: panelChangeShape });
export type ChangeWeekParams = ShapeType<typeof changeWeekParams>;

/** Client → server: the edit that changes what the week file says of a technique. */
export const changeWeekRequest = request('routewright/changeWeek', {
  params: changeWeekParams,
  result: fileEditResultShape,
});
