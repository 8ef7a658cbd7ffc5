import { scalarTextAt } from '../../../files/edit/valueAt.ts';
import { formatDate, parseMoment, runnerDayOf } from '../../../text/calendar.ts';
import type { Project } from '../../../workspace/project.ts';
import { filesOf } from '../../../workspace/workspace.ts';
import { dayStartsOf } from '../../../queries/dayStarts.ts';
import type { Rule } from '../../engine/rule.ts';
import { entryStarts } from '../../lookup/entryStarts.ts';
import type { Fix, SourceRef } from '../../lookup/sourceRef.ts';

/** A date with an earlier year is offered only where it lies within so many days before the findings' day. */
const maxDaysBack = 180;

/** Something logged on a day still to come. */
export const dateInFuture: Rule = {
  code: 'date-in-future',
  severity: 'warning',
  title: 'An entry dated after today.',
  page: {
    why: 'An entry in the future is not counted until its day comes. Most often the year or the month is wrong.',
    way: 'Correct the date. Where only the year is wrong, the fix writes the year in which the date has just passed.',
    failing: {
      practice: `sessions:
  - start: 2027-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-10-05T19:30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
    today: '2026-10-06',
  },
  check(context) {
    const { project, today } = context;
    const dayStarts = dayStartsOf(context.own);
    return entryStarts(project)
      .flat()
      .filter(({ moment }) => runnerDayOf(moment, dayStarts) > today)
      .map(({ place }) => ({
        ...place,
        ...yearFix(textAt(project, place), place, today, dayStarts),
        message: `This is dated after ${formatDate(today)}, the day that the findings are for. Correct the date; until that day comes it is not counted.`,
      }));
  },
};

/** What is written at a place; undefined where it is no plain value. */
function textAt(project: Project, { uri, path }: SourceRef): string | undefined {
  const file = filesOf(project).find((one) => one.uri === uri);
  return file && scalarTextAt(file.reading, path);
}

/** A fix that writes the year in which the date was reached last, where that is not long ago. */
function yearFix(
  written: string | undefined,
  place: SourceRef,
  today: number,
  dayStarts: number,
): { readonly fix?: Fix } {
  if (written === undefined) return {};
  const thisYear = Number(formatDate(today).slice(0, 4));
  for (const year of [thisYear, thisYear - 1]) {
    const text = String(year) + written.slice(4);
    const moment = parseMoment(text);
    const day = moment && runnerDayOf(moment, dayStarts);
    if (day !== undefined && day <= today && day >= today - maxDaysBack)
      return { fix: { ...place, title: `Change to \`${text}\``, text, onRequest: true } };
  }
  return {};
}
