import { leastRunners, mostRunners } from '../../model/pool/addUp.ts';
import { techniqueNamesOf, nameLookup } from '../../queries/names.ts';
import { poolJson } from '../../reports/pool/poolJson.ts';
import { type PoolAnswer, poolPage } from '../../reports/pool/poolPage.ts';
import { fileName } from '../../workspace/fileName.ts';
import { addUpPool, type AddedUp } from '../pool/addUpPool.ts';
import { poolTarget, type PoolTarget } from '../pool/poolTarget.ts';
import { writePool, type WrittenPool } from '../pool/writePool.ts';
import { titleOf } from '../project/titleOf.ts';
import type { Request } from '../terminal/arguments.ts';
import { cliError, type CliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, printNotice } from '../terminal/io.ts';
import { asOfOption } from '../terminal/optionValues.ts';
import { relativeNames } from '../terminal/paths.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright pool`: what several runners' practice says together, and pools put together. */
export async function pool(request: Request, io: Io): Promise<CommandResult> {
  const { paths, values, numbers, switches } = request;
  const wanted = switches.has('write') || values.has('output');
  const minRunners = numbers.get('min-runners') ?? leastRunners;
  const added = await addUpPool(
    {
      paths,
      route: values.get('route'),
      writes: wanted,
      asOf: asOfOption(request),
      minRunners,
      threads: numbers.get('threads'),
    },
    io,
  );
  if (isCliError(added)) return added;
  if (added.runners.length > mostRunners)
    return cliError(`A pool holds ${mostRunners} runners at most, and here are ${added.runners.length}.`);
  const target = poolTarget(added.route, { output: values.get('output'), write: switches.has('write') }, io);
  if (isCliError(target)) return target;
  const written = wanted ? await write(added, target, switches.has('anyway')) : undefined;
  if (isCliError(written)) return written;
  const answer: PoolAnswer = {
    route: relativeNames(io.cwd)(added.route.project.route.uri),
    day: added.day,
    runners: added.runners.length,
    rows: added.rows,
    leftOut: added.leftOut,
    notCounted: added.notCounted,
  };
  if (switches.has('json')) printJson(io, poolJson(answer, written?.isWritten ? target.shown : null));
  else
    printPage(
      io,
      poolPage(answer, {
        title: titleOf(added.route.project, io),
        nameOf: nameLookup(techniqueNamesOf(added.route.project)),
        next: wanted || added.rows.length === 0 ? undefined : nextSentence(target),
      }),
    );
  for (const notice of written?.notices ?? []) printNotice(io, notice);
  return exitCodeOf(added);
}

/** What came of writing, or why nothing was written. */
async function write(
  added: AddedUp,
  { path, shown }: PoolTarget,
  anyway: boolean,
): Promise<(WrittenPool & { readonly isWritten: boolean }) | CliError> {
  const nothing = (sentence: string) => ({ notices: [sentence], isWritten: false });
  if (added.rows.length === 0) return nothing('Nothing is written: there is nothing to tell.');
  // Once the missing one is there, the difference would be its numbers alone.
  if (added.incomplete) return nothing(`${shown} is not written: it would lack what could not be read.`);
  const { runners, rows, day, lastDays, route, others } = added;
  const done = await writePool({
    ...{ path, shown, runners, lastDays, others, anyway },
    route: route.project.route.uri,
    content: { day, runners, rows },
  });
  return isCliError(done) ? done : { ...done, isWritten: true };
}

function nextSentence({ shown }: PoolTarget): string {
  return `Nothing is written yet. --write writes ${fileName(shown)} beside the route, --output another file.`;
}

function exitCodeOf({ incomplete, unusable, rows }: AddedUp): number {
  if (incomplete) return exitCodes.wrong;
  return rows.length === 0 || unusable > 0 ? exitCodes.findings : exitCodes.fine;
}
