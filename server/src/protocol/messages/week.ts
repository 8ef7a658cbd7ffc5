import { fileEditResultShape } from '../fileEdit.ts';
import { request } from './message.ts';
import { panelChangeShape } from '../panel/pageMessages.ts';
import { fileTextShape } from '../fileText.ts';
import { refusalShape } from '../refusal.ts';
import { oneOf, record, textShape, unionOf, type ShapeType } from '../shape.ts';

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

const swapParams = record({
  uri: textShape,
  /** The technique to put aside. */
  technique: textShape,
  /** The technique to take up in its place. */
  instead: textShape,
});
export type SwapParams = ShapeType<typeof swapParams>;

/** Client → server: the edit that puts one technique aside and takes another up, in the week file. */
export const swapRequest = request('routewright/swap', { params: swapParams, result: fileEditResultShape });

const changeWeekParams = record({ uri: textShape, technique: textShape, change: panelChangeShape });
export type ChangeWeekParams = ShapeType<typeof changeWeekParams>;

/** Client → server: the edit that changes what the week file says of a technique. */
export const changeWeekRequest = request('routewright/changeWeek', {
  params: changeWeekParams,
  result: fileEditResultShape,
});

const addToWeekParams = record({
  uri: textShape,
  what: oneOf('minutes', 'target'),
  /** Minutes of practice on each day, or a time such as `41:30`, as a person wrote it. */
  text: textShape,
});
export type AddToWeekParams = ShapeType<typeof addToWeekParams>;

/** Client → server: the edit that writes what a view lacks into the week file, or creates the file. */
export const addToWeekRequest = request('routewright/addToWeek', {
  params: addToWeekParams,
  result: fileEditResultShape,
});

const weekCalendarParams = record({ uri: textShape });
export type WeekCalendarParams = ShapeType<typeof weekCalendarParams>;
const weekCalendarResult = unionOf(
  record({
    /** The calendar file (RFC 5545). */
    text: fileTextShape,
    /** A name for the file. */
    name: textShape,
    /** When its sessions start, such as `19:30`. */
    startsAt: textShape,
  }),
  refusalShape,
);
export type WeekCalendarResult = ShapeType<typeof weekCalendarResult>;

/** Client → server: the plan of the coming week as a calendar. */
export const weekCalendarRequest = request('routewright/weekCalendar', {
  params: weekCalendarParams,
  result: weekCalendarResult,
});
