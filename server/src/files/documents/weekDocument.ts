import type { Week } from '../../generated/types.ts';
import { parseTimeOfDay, parseMoment } from '../../text/calendar.ts';
import { defaultNumber, defaultText } from '../schema/defaults.ts';
import type { WeekDocument } from './documents.ts';
import type { Reading } from '../reading/reading.ts';
import { toReferences } from './routeDocument.ts';
import { parseTime } from '../../text/time.ts';
import { indexedItems } from '../yaml/value.ts';

/** The values that count where there is no week file, or where it leaves something out. */
export const weekDefaults = {
  block: defaultNumber('week', ['block']),
  confidence: defaultNumber('week', ['confidence']),
  dayStarts: parseTimeOfDay(defaultText('week', ['day_starts'])),
};

/** What a reading of a week file holds. */
export function buildWeekDocument(reading: Reading): WeekDocument {
  const file = reading.outer as Partial<Week.WeekFile>;
  return {
    route: file.route,
    runner: file.runner,
    target: file.target === undefined ? undefined : parseTime(file.target),
    days: file.days ?? {},
    runs: file.runs ?? {},
    block: file.block ?? weekDefaults.block,
    confidence: file.confidence ?? weekDefaults.confidence,
    off: indexedItems(file.off).flatMap(([, date]) => parseMoment(date) ?? []),
    pin: toReferences(file.pin, ['pin']),
    leaveOut: toReferences(file.leave_out, ['leave_out']),
    states: Object.entries(file.states ?? {}).map(([id, state]) => ({ id, state, path: ['states', id] })),
    times: Object.entries(file.times ?? {}).flatMap(([id, own]) => {
      const time = parseTime(own.time);
      return time === undefined ? [] : [{ id, time, spread: own.spread, path: ['times', id] }];
    }),
    dayStarts: file.day_starts === undefined ? weekDefaults.dayStarts : parseTimeOfDay(file.day_starts),
    model: file.model ?? {},
  };
}
