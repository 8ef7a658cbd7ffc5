import type { Weekday } from '../../files/documents/documents.ts';
import type { Path } from '../../files/yaml/tree.ts';
import type { Project } from '../../workspace/project.ts';

const weekdayNames: Readonly<Record<Weekday, string>> = {
  mon: 'Monday',
  tue: 'Tuesday',
  wed: 'Wednesday',
  thu: 'Thursday',
  fri: 'Friday',
  sat: 'Saturday',
  sun: 'Sunday',
};

/** Minutes for practice of one day of a week file, with their place. */
export interface WeekDay {
  readonly uri: string;
  readonly path: Path;
  /** `Monday`. */
  readonly name: string;
  readonly minutes: number;
}

/** The days of all week files of a project that have minutes for practice written, from Monday on. */
export function ownWeekDays(project: Project): WeekDay[] {
  return project.weeks.flatMap(({ uri, document }) =>
    (Object.keys(weekdayNames) as Weekday[]).flatMap((day): WeekDay[] => {
      const minutes = document.days[day];
      return minutes === undefined ? [] : [{ uri, path: ['days', day], name: weekdayNames[day], minutes }];
    }),
  );
}
