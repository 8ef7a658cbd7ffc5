/**
 * How long test files take. `npx tsx tests/durations.ts` writes tests/durations.json anew from the last whole run's
 * reports, one a project of vitest (tests/output/).
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';

const root = join(import.meta.dirname, '..');
const file = join(import.meta.dirname, 'durations.json');

/** Files that take less are not listed. */
const LISTED_FROM_S = 1;
/** What a file that is not listed counts as, in seconds. */
const UNLISTED_S = 0.3;

const listed = JSON.parse(readFileSync(file, 'utf8')) as Readonly<Record<string, number>>;

/** Seconds that a test file takes alone on an idle machine, by its path in the project; a guess where it is not listed. */
export function secondsOf(path: string): number {
  return listed[path] ?? UNLISTED_S;
}

interface Report {
  readonly testResults: readonly {
    readonly name: string;
    readonly startTime: number;
    readonly endTime: number;
  }[];
}

/** The files of a report that took long, longest first, with their seconds to one decimal. */
function longFiles({ testResults }: Report): Record<string, number> {
  const seconds = testResults.map(
    ({ name, startTime, endTime }) =>
      [relative(root, name).replaceAll('\\', '/'), Math.round((endTime - startTime) / 100) / 10] as const,
  );
  return Object.fromEntries(seconds.filter(([, took]) => took >= LISTED_FROM_S).sort((a, b) => b[1] - a[1]));
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const reports = ['functions', 'processes'].map(
    (project) => JSON.parse(readFileSync(join(root, `tests/output/${project}.json`), 'utf8')) as Report,
  );
  const testResults = reports.flatMap((report) => report.testResults);
  writeFileSync(file, `${JSON.stringify(longFiles({ testResults }), undefined, 2)}\n`);
}
