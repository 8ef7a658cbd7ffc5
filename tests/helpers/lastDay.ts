import type { DayChoice } from '../../server/src/queries/answerDay.ts';
import { type Moment, parseMoment } from '../../server/src/text/calendar.ts';

/** What the clock shows in a test that is about no particular time: later than every entry of the tests' logs. */
export const afterAllLogs: Moment = parseMoment('2099-12-31T12:00')!;

/** The day after the last log entry, as `--as-of last`. */
export const lastDay: DayChoice = { now: afterAllLogs, asked: 'last' };
