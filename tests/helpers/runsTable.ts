import { formatTime } from '../../server/src/text/time.ts';
import { buildRunsDocument } from '../../server/src/files/documents/logDocuments.ts';
import { formatDate } from '../../server/src/text/calendar.ts';
import { readSource } from '../../server/src/files/reading/reading.ts';

/** The runs of a file as the rows of a table: start, harbor, total, crate-vault, wall-kick, ended. */
export function runRowsOf(text: string): string[][] {
  const { runs } = buildRunsDocument(readSource('runs', text));
  const written = (seconds: number | undefined) =>
    seconds === undefined ? '' : formatTime(seconds, Number.isInteger(seconds) ? 0 : 1);
  return runs.map(({ start, times, total, tried, endings }) => {
    const minute = start.minute ?? 0;
    const two = (value: number) => String(value).padStart(2, '0');
    const tally = (technique: string) => {
      const found = tried.find((one) => one.technique === technique);
      return found ? `${found.landed}/${found.tries}` : '';
    };
    return [
      `${formatDate(start.date)}T${two(Math.floor(minute / 60))}:${two(minute % 60)}`,
      written(times.find(({ id }) => id === 'harbor')?.seconds),
      written(total),
      tally('crate-vault'),
      tally('wall-kick'),
      endings.map(({ segment, why }) => `${segment}:${why}`).join(),
    ];
  });
}
