import type { Steps } from '../../incremental/steps.ts';
import type { PlanBlock } from '../../model/week/planWeek.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { runInTurns, type StopSignal } from '../documents/eventLoop.ts';
import type { Technique } from '../../files/documents/documents.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { minutesPractised } from '../../model/week/minutesPractised.ts';
import type {
  OfferedTechnique,
  PracticeOfferParams,
  PracticeOfferResult,
} from '../../protocol/messages/practiceOffer.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import type { Assessment } from '../../model/core/results.ts';
import { formatPercent } from '../../text/format.ts';
import { standingFieldsOf } from '../../reports/standingReports.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { normalUri } from '../documents/uris.ts';
import type { PanelReports } from '../estimates/panelReports.ts';
import { logFileOf } from './logFile.ts';
import type { PracticeLogs } from './practiceLogs.ts';
import { resolveForModel, routeName, withRunner } from '../requests/resolveProject.ts';
import type { PracticeServices } from './practiceServices.ts';

/**
 * The techniques that can be practised and logged for the route of a file, with the next block that the plan has for
 * today.
 */
export async function practiceOffer(
  services: PracticeServices,
  reports: PanelReports,
  logs: PracticeLogs,
  { uri, plan }: PracticeOfferParams,
  signal: StopSignal,
): Promise<PracticeOfferResult> {
  const resolved = resolveForModel(services.workspace, normalUri(uri));
  if ('message' in resolved) return resolved;
  const { project, own } = resolved;
  if (project.techniques.size === 0)
    return {
      message: 'The route has no technique yet. Add one under techniques: and run the command again.',
    };
  const practice = await logFileOf(services, project, own, 'practice', uri);
  if ('message' in practice) return practice;
  const { modelInput, assessed, first } = await runInTurns(
    offerOf(services, reports, project, own, plan),
    signal,
  );
  const { asOfDay, logs: entries } = modelInput;
  const minutes = own.week?.document.block ?? weekDefaults.block;
  const offered = (technique: Technique, length = minutes): OfferedTechnique =>
    offeredTechnique(technique, assessed.get(technique.id)!, length);
  const technique = first && project.techniques.get(first.technique);
  return {
    route: withRunner(routeName(project), own),
    practice,
    next: technique ? offered(technique, first.minutes) : null,
    techniques: setFirst([...project.techniques.values()].map((one) => offered(one))),
    promise: logs.durabilityNotice(practice.uri),
    caution: overuseWarning(own, asOfDay) ?? null,
    minutesToday: minutesPractised(entries.practice, asOfDay),
  };
}

function offeredTechnique(
  { id, name, practice }: Technique,
  { standing: { kind }, practiceNow }: Assessment,
  minutes: number,
): OfferedTechnique {
  return {
    technique: id,
    name: sanitizeForTerminal(name),
    minutes,
    from: sanitizeForTerminal(practice.from ?? ''),
    cycle: practice.attempt + practice.reload,
    usual: formatPercent(practiceNow.mean),
    ...standingFieldsOf(kind),
  };
}

/** The practice set first, what is to work on again before the rest of it; otherwise the order stays. */
function setFirst(techniques: readonly OfferedTechnique[]): OfferedTechnique[] {
  const group = ({ standing, inSet }: OfferedTechnique): number => (standing === 'again' ? 0 : inSet ? 1 : 2);
  return [...techniques].sort((a, b) => group(a) - group(b));
}

/**
 * What the model says about the techniques that are offered.
 *
 * @param plan whether the first block of today's plan is asked for, too
 */
function* offerOf(
  { estimates }: PracticeServices,
  reports: PanelReports,
  project: Project,
  own: RunnerFiles,
  plan: boolean,
) {
  const modelInput = yield* estimates.modelInput(project, own);
  const assessed = yield* estimates.assessment(project, own, project.techniques.keys());
  const first = plan ? yield* firstBlock(reports, project, own, modelInput) : undefined;
  return { modelInput, assessed, first };
}

/** The first block in the plan for the rest of today. */
function* firstBlock(
  reports: PanelReports,
  project: Project,
  own: RunnerFiles,
  input: ModelInput,
): Steps<PlanBlock | undefined> {
  const planContext = reports.weekPlanInput(project, own, input);
  if (planContext.planInput.minutes[0] === 0) return undefined;
  const { report } = yield* reports.week(project, input, planContext, true);
  return report?.days[0]?.blocks[0];
}
