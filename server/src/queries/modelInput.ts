import { inOneGo } from '../incremental/steps.ts';
import type { Steps } from '../incremental/steps.ts';
import { weekDefaults } from '../files/documents/weekDocument.ts';
import type { TechniqueState, Weekday } from '../files/documents/documents.ts';
import type { Week } from '../generated/types.ts';
import type { Constants } from '../model/core/constants.ts';
import type { OthersWord } from '../model/core/rated.ts';
import { MemoCache } from '../incremental/memoCache.ts';
import type { Logs, RankOptions, RouteModel } from '../model/core/types.ts';
import { dayStartsOf } from './dayStarts.ts';
import { runnerSegmentTimesInSteps, type RunnerSegmentTimes } from './runnerSegmentTimes.ts';
import { buildModelLogs } from './modelLogs.ts';
import { currentTechniqueId, type Project } from '../workspace/project.ts';
import { othersByTechniqueInSteps } from './othersByTechnique.ts';
import { buildRouteModel } from './routeModel.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { techniqueStatesOf, writtenStates } from './techniqueStates.ts';

/**
 * Everything that the model needs to know about a project. The same files and the same date always give the same input.
 */
export interface ModelInput {
  /** The route, with the runner's own segment times where the runs give them. */
  readonly route: RouteModel;
  /** Where the segment times come from. */
  readonly times: RunnerSegmentTimes;
  readonly logs: Logs;
  /** Day number of the morning that the answer is for. */
  readonly asOfDay: number;
  readonly options: RankOptions;
  readonly constants: Partial<Constants>;
  readonly states: ReadonlyMap<string, TechniqueState>;
  /** Minutes of runs on a day with runs, by the week file; undefined where it has none. */
  readonly runMinutesPerDay: number | undefined;
}

/** Choices for a model input. */
export interface ModelInputOptions {
  /** Day number of the day that the answer is for (`answerDayOf`). Entries after it do not count. */
  readonly asOf: number;
  /** True: the ranking also has the techniques that are in the run already. */
  readonly all?: boolean;
  /** Keeps results that the next input can use again. */
  readonly memory?: MemoCache;
}

/** Makes the model's input from a project's files. */
export const buildModelInput = inOneGo(buildModelInputInSteps);

/** The same in steps, the longest of them the times of one segment. */
export function* buildModelInputInSteps(
  project: Project,
  own: RunnerFiles,
  { asOf: asOfDay, all = false, memory = new MemoCache() }: ModelInputOptions,
): Steps<ModelInput> {
  const week = own.week?.document;
  const dayStarts = dayStartsOf(own);
  const states = techniqueStatesOf(project, own, dayStarts, asOfDay);
  const times = yield* runnerSegmentTimesInSteps(
    project,
    own,
    buildRouteModel(project, own.week, states, writtenStates(project, own)),
    asOfDay,
    memory,
  );
  const logs = buildModelLogs(project, own, dayStarts, asOfDay);
  const constants = constantsOf(week?.model ?? {});
  const others = yield* othersByTechniqueInSteps(project, own, logs, constants, memory);
  return {
    route: others.size === 0 ? times.route : withOthers(times.route, others),
    times,
    logs,
    asOfDay,
    options: {
      blockMinutes: week?.block ?? weekDefaults.block,
      confidence: week?.confidence ?? weekDefaults.confidence,
      all,
      leaveOut: week?.leaveOut.map(({ id }) => currentTechniqueId(project, id) ?? id) ?? [],
    },
    constants,
    states,
    runMinutesPerDay: meanMinutes(week?.runs),
  };
}

/** The mean over the days that have any minutes. */
function meanMinutes(days: Readonly<Partial<Record<Weekday, number>>> = {}): number | undefined {
  const own = Object.values(days).filter((minutes) => minutes > 0);
  return own.length === 0 ? undefined : own.reduce((sum, minutes) => sum + minutes, 0) / own.length;
}

/** The route with what other runners' practice says of its techniques. */
function withOthers(route: RouteModel, others: ReadonlyMap<string, OthersWord>): RouteModel {
  const techniques = route.techniques.map((technique) => ({
    ...technique,
    others: others.get(technique.id),
  }));
  return { ...route, techniques };
}

/** The numbers that the runner chose themselves. */
function constantsOf(model: Week.ModelConstants): Partial<Constants> {
  return {
    ...(model.unit_practice !== undefined && { unitPractice: model.unit_practice }),
    ...(model.day_saturation !== undefined && { daySaturation: model.day_saturation }),
    ...(model.overnight_gain !== undefined && { overnightGain: model.overnight_gain }),
    ...(model.half_life !== undefined && { halfLife: model.half_life }),
    ...(model.form_of_day !== undefined && { formSd: model.form_of_day }),
    ...(model.clock_weight !== undefined && { clockWeight: model.clock_weight }),
  };
}
