import type { Pool, Week } from '../../../generated/types.ts';
import { knownYears, parseMoment } from '../../../text/calendar.ts';
import type { Reading } from '../../../files/reading/reading.ts';
import type { Path } from '../../../files/yaml/tree.ts';
import { ownPools } from '../../../workspace/groupFiles.ts';
import { indexedItems } from '../../../files/yaml/value.ts';
import { ownPractice } from '../../lookup/ownFiles.ts';
import type { Rule } from '../../engine/rule.ts';

/** Dates of the right form that no calendar has, such as the 30th of February. */
export const notADate: Rule = {
  code: 'not-a-date',
  severity: 'error',
  title: 'A date or time of day that does not exist.',
  page: {
    why: 'An entry on a day that no calendar has is not counted.',
    way: 'Correct the date or the time of day.',
    failing: {
      practice: `sessions:
  - start: 2026-02-30
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
    passing: {
      practice: `sessions:
  - start: 2026-02-28
    blocks: [{ technique: crate-vault, minutes: 25 }]
`,
    },
  },
  check({ project }) {
    const files = [...ownPractice(project), ...project.runs, ...project.weeks, ...ownPools(project)];
    return files.flatMap(({ uri, reading }) =>
      written(reading)
        .filter(([text]) => parseMoment(text) === undefined)
        .map(([text, path]) => ({
          uri,
          path,
          part: 'value' as const,
          message: `${whatIsWrong(text)}. ${consequence(reading)}`,
        })),
    );
  },
};

function consequence({ kind }: Reading): string {
  return kind === 'pool'
    ? 'Correct it, or make the pool again; its techniques count nevertheless.'
    : 'Correct it; until then this entry is not counted.';
}

function whatIsWrong(text: string): string {
  const { first, last } = knownYears;
  const year = Number(text.slice(0, 4));
  if (year < first || year > last) return `The year of \`${text}\` is not between ${first} and ${last}`;
  return `There is no ${parseMoment(text.slice(0, 10)) ? 'time of day' : 'day'} \`${text}\``;
}

/** Dates as they are written, whichever kind the file is: documents leave out those that do not exist. */
function written({ sections, outer }: Reading): [string, Path][] {
  const found: [string, Path][] = [];
  for (const { key, at, value } of entriesIn(sections)) {
    const { start, date } = value as { readonly start?: string; readonly date?: string };
    if (start !== undefined) found.push([start, [key, at, 'start']]);
    else if (date !== undefined) found.push([date, [key, at, 'date']]);
  }
  for (const [index, date] of indexedItems((outer as Partial<Week.WeekFile>).off))
    found.push([date, ['off', index]]);
  const { day } = outer as Partial<Pool.PoolFile>;
  if (day !== undefined) found.push([day, ['day']]);
  return found;
}

function* entriesIn(sections: Reading['sections']) {
  for (const [key, { entries }] of sections)
    for (const [at, { value }] of entries.entries()) if (value !== undefined) yield { key, at, value };
}
