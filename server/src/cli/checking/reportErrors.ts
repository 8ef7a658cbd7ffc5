import { locateFindings } from '../../reports/check/checkReport.ts';
import { formatPosition } from '../../reports/check/checkText.ts';
import { formatCount } from '../../text/format.ts';
import type { LoadedFiles } from '../project/loadFiles.ts';
import type { Io } from '../terminal/io.ts';
import { printNotice } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';
import { checkSelection } from './findings.ts';

/** Number of errors that are listed before the answer; `check` shows the rest. */
const maxErrorsShown = 5;

/** Reports errors in the files: the answer leaves out the parts with errors, and the person must know that. */
export function reportErrors(loaded: LoadedFiles, io: Io, runner: string | undefined): void {
  const { findings } = checkSelection(loaded.workspace, loaded.select(), {
    // No error depends on the day.
    day: { now: io.now(), asked: undefined },
    runner,
    forecast: false,
  });
  // The error about the choice of a runner has a sentence of its own.
  const errors = findings.filter(({ severity, code }) => severity === 'error' && code !== 'several-runners');
  if (errors.length === 0) return;
  const textOf = (uri: string) => loaded.workspace.file(uri)?.reading.text;
  for (const { file, range, message } of locateFindings(
    errors.slice(0, maxErrorsShown),
    textOf,
    relativeNames(io.cwd),
  ))
    printNotice(io, `${file}:${formatPosition(range.start)}  error  ${message}`);
  const what = errors.length === 1 ? 'it concerns' : 'they concern';
  printNotice(
    io,
    `${formatCount(errors.length, 'error')} in these files: what ${what} may be missing from the answer.`,
  );
}
