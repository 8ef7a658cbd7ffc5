import { useName } from '../../files/schema/ids.ts';
import type { Steps } from '../../incremental/steps.ts';
import { breakdownInSteps, type Breakdown } from '../../model/run/breakdown.ts';
import type { RunFormParams, RunFormResult } from '../../protocol/messages/logEntry.ts';
import { runLogVersion, type FormUse, type RunForm } from '../../protocol/runLog/runForm.ts';
import { plausibleTimes } from '../../rules/lookup/plausibleTimes.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { formatDate } from '../../text/calendar.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { runInTurns, type StopSignal } from '../documents/eventLoop.ts';
import { normalUri } from '../documents/uris.ts';
import { resolveForModel, routeName, withRunner } from '../requests/resolveProject.ts';
import { logFileOf } from './logFile.ts';
import type { PracticeServices } from './practiceServices.ts';

/** What the page of a run asks for along the route of a file, and the log that the run goes into. */
export async function runForm(
  services: PracticeServices,
  { uri }: RunFormParams,
  signal: StopSignal,
): Promise<RunFormResult> {
  const resolved = resolveForModel(services.workspace, normalUri(uri));
  if ('message' in resolved) return resolved;
  const { project, own } = resolved;
  if (project.segments.length === 0)
    return {
      message: 'The route has no segment yet. Add one under segments: and run the command again.',
    };
  const runs = await logFileOf(services, project, own, 'runs', uri);
  if ('message' in runs) return runs;
  const usual = await runInTurns(usualOf(services, project, own), signal);
  return { form: formOf(services, project, own, runs.uri, usual), runs };
}

function* usualOf({ estimates }: PracticeServices, project: Project, own: RunnerFiles): Steps<Breakdown> {
  const input = yield* estimates.modelInput(project, own);
  return yield* breakdownInSteps(input, [], estimates.cache(project));
}

function formOf(
  { estimates }: PracticeServices,
  project: Project,
  own: RunnerFiles,
  uri: string,
  usual: Breakdown,
): RunForm {
  const today = estimates.day(own);
  const seconds = new Map(usual.segments.map((one) => [one.segment, one.seconds]));
  const plausible = plausibleTimes({ project, own, today });
  return {
    version: runLogVersion,
    uri,
    route: withRunner(routeName(project), own),
    today: formatDate(today),
    segments: project.segments.map(({ id, name, time }) => {
      const { fastest, longest } = plausible.get(id)!;
      return {
        id,
        name: sanitizeForTerminal(name),
        usual: seconds.get(id) ?? time,
        fastest: Math.max(0, fastest),
        longest,
      };
    }),
    uses: usesOf(project, new Set(usual.techniques.map(({ technique }) => technique))),
  };
}

/**
 * The uses of the route in its order, each backup after the use that it belongs to.
 *
 * @param inRun techniques that the runner's run tries today
 */
function usesOf({ segments, techniques }: Project, inRun: ReadonlySet<string>): FormUse[] {
  return segments.flatMap((segment) => {
    const uses: FormUse[] = [];
    const takenSpots = new Set<string>();
    const add = (use: string, technique: string, wanted: boolean): void => {
      const found = techniques.get(technique);
      if (!found || uses.some((one) => one.use === use)) return;
      const id = use.slice(technique.length + 1);
      const name = sanitizeForTerminal(found.name) + (id === '' ? '' : `, ${sanitizeForTerminal(id)}`);
      uses.push({ key: `${segment.id} ${use}`, use, technique, name, segment: segment.id, tried: wanted });
    };
    for (const { technique, id, spot } of segment.uses) {
      // Of the uses of one spot, a run tries one.
      const tried = inRun.has(technique) && (spot === undefined || !takenSpots.has(spot));
      if (tried && spot !== undefined) takenSpots.add(spot);
      add(useName(technique, id), technique, tried);
    }
    // A backup is tried only after a miss, so that it is not suggested.
    for (const { backup } of segment.uses) if (backup !== undefined) add(backup, backup, false);
    return uses;
  });
}
